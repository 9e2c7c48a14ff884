"""Reading and writing charts."""
