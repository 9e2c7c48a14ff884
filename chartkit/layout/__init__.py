"""An arrangement to pages of placed, already measured runs; nothing here draws."""
