"""Tab in plain text, to be printed, mailed or read in any editor."""
