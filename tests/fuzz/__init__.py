"""Readers under a coverage-guided fuzzer; see ``__main__``.  No part of the test run."""
