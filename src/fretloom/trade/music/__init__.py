"""Values of music: pitches, lengths, meters, keys; without guitar and text."""
