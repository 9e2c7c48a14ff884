"""Names of sections: how they are typed, and which names a sheet uses."""
