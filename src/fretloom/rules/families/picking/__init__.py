"""The picking hand."""
