"""The parts of a page, each made from values and drawn by the artist of the page."""
