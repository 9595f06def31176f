"""Slips that are found before the grammar sees a line, each with the way out."""
