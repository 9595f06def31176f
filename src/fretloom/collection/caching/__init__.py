"""What was found in lessons before, kept by the content of all the files that it was found in."""
