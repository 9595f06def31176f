"""Chord diagrams: as drawn pictures (SVG), and in plain text."""
