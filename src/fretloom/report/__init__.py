"""Diagnostics as text, JSON and annotations."""
