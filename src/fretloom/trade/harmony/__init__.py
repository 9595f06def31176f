"""Chord symbols and what sounds; takes pitches, knows no strings."""
