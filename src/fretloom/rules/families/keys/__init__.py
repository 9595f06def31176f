"""Capo, keys and meters."""
