"""Lines of each block, as the parser understands them, to the model."""
