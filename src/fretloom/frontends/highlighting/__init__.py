"""Lessons in colour, for programs that show texts."""
