"""Draws the bars: what goes where at each instant, and lines of bars as wide as the page."""
