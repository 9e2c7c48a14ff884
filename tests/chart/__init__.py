"""Tests of the chart model."""
