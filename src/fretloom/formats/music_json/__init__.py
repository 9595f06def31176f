"""What is played, as JSON."""
