"""Advice from computed fingerings: where the capo goes."""
