"""Places in time: patterns laid out over beats, exact times in whole numbers, and what a bar is made from."""
