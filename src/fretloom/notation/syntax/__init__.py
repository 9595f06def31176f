"""Text to model and back."""
