"""Hands: what the fretting and the picking hand can do, with voicings and plucks and without names."""
