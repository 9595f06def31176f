"""The command `fretloom`."""
