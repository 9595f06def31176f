"""What the trade knows, with no lesson in sight: music, the guitar, harmony, hands, and how to say it."""
