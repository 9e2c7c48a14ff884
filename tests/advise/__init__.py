"""Tests of the advice on capos, guitars, singers and strings."""
