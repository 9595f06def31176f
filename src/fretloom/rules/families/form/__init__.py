"""Sections and form."""
