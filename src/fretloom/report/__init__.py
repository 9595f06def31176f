"""Findings and advice for readers and programs; made from values, never computing."""
