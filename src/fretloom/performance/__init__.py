"""The lesson as it is played: what holds, what sounds when, and what the hands do."""
