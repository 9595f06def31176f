"""Sounds, hands and suggestions as text and JSON."""
