"""Draws the bars: what stands where at each instant, and lines of bars up to the width of the page."""
