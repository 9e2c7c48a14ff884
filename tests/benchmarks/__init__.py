"""Measurements that print tables; run by hand, not by the test runner."""
