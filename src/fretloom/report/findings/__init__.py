"""Findings as text, JSON and annotations."""
