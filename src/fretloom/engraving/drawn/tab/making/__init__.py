"""Bars to be drawn, made from sections as written and from what is played."""
