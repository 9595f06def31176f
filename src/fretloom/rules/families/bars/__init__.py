"""Bars, beats and counts."""
