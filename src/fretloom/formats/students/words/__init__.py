"""The lesson in words: for those who read, and for those who hear it."""
