"""Tests of the second guitar's part."""
