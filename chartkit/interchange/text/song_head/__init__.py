"""Reads the head of a sheet into the chart: title, writer, settings and notes."""
