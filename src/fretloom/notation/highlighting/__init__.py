"""What kind of thing each piece of a text is, for who colours it: words, names, frets, plucks."""
