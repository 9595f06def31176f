"""Hands: what the fretting and the picking hand can do; takes voicings and plucks, no names."""
