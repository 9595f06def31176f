"""Waivers: a page only, the findings are made in rules/waivers.py."""
