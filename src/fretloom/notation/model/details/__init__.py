"""What is said of notes, bars and lines beyond their pitch: techniques, expression, words sung."""
