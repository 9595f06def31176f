"""What leaves: one folder a format, independent of one another."""
