"""Thin doors to the library: the command line and its kin."""
