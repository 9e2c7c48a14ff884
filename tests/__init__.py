"""The tests of chartkit."""
