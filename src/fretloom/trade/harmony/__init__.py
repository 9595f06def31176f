"""Chord symbols and what sounds; works with pitches, without strings."""
