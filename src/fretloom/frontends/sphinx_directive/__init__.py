"""Lessons in documentation that Sphinx builds."""
