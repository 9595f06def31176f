"""The drawn tab: bars to time scale, the thumb's stems on the ground and the fingers' in the air."""
