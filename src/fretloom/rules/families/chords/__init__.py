"""Chord names and what sounds."""
