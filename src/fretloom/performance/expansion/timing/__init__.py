"""Places in time: patterns laid out over beats, exact times in whole numbers, what a bar is made from."""
