"""A lesson made easier for a level: smaller shapes, fewer plucks, a slower tempo."""
