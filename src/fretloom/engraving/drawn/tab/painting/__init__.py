"""Draws what has been given its place: strings, stems, frets and what is done with them."""
