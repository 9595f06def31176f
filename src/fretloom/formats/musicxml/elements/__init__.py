"""Writes the elements of a score, from the head to the marks at a note. Imports lxml."""
