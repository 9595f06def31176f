"""Values of music: pitches, lengths, meters, keys; no guitar and no text."""
