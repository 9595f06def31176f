"""Findings and advice for readers and programs; nothing is worked out here."""
