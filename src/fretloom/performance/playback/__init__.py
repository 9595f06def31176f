"""The performance as it is heard: tempo, swing, what is spread in time, loudness, and when each string stops."""
