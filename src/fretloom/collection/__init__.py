"""Many lessons at once: which files there are, where their collection begins, and checking them all."""
