"""Pictures for students, computed as lines, discs and words; a format puts them into a file."""
