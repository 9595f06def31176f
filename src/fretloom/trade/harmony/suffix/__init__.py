"""What stands after the root of a chord symbol, read."""
