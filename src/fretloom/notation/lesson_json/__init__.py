"""The lesson as written, as JSON and back."""
