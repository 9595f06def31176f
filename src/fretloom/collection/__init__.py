"""Many lessons at once: which files there are, the root of their collection, checking them all."""
