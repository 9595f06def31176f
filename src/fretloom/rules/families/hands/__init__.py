"""What the hands can do."""
