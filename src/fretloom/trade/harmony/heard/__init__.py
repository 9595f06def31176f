"""What is heard of a chord, and the names that a teacher gives it."""
