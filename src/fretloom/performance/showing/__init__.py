"""What is shown of a lesson apart from playing it through: its shapes with their use, its patterns alone."""
