"""Names of sections that stand in no list: what shows that a sheet uses them."""
