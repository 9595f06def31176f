"""The command fretloom."""
