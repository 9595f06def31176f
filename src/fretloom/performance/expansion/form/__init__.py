"""Sections and the form: which written bar is played when."""
