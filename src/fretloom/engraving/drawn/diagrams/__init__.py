"""What diagrams of shapes and of changes share."""
