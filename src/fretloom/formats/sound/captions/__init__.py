"""Captions in WebVTT: bar, chord, count and words as they come, for what we record and for what teachers record."""
