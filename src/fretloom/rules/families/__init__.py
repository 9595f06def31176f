"""One folder a family: its page, and the checks beside it."""
