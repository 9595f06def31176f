"""The lines of the heading: one row each, and how their values are read and written."""
