"""Hostile and odd input, through the commands as they are called."""
