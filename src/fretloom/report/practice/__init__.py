"""A practice path as JSON."""
