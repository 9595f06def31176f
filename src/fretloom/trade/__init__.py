"""What the trade knows, without any lesson: music, the guitar, harmony, hands, and how to say it."""
