"""Voicings as written to voicings as held."""
