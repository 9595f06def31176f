"""What is heard and when, as JSON for other programs."""
