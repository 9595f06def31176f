"""What a collection has settled for itself in `fretloom.toml` or `pyproject.toml`: found, read, applied, shown."""
