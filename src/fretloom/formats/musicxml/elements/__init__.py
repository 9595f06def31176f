"""Writes the elements of a score, from its head to the marks on a note."""
