"""Lessons as tests of pytest, for who asks for it."""
