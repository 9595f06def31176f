"""What leaves the house: one folder for each format, and no format needs another."""
