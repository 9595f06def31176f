"""Hands: can this be fretted, changed to and plucked; knows no chord names."""
