"""Drawn tab: the song to time scale, section by section (SVG)."""
