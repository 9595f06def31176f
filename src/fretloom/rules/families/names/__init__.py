"""Names and what they stand for."""
