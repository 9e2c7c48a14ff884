"""Rewrites what people type in their own ways as sheets usually stand."""
