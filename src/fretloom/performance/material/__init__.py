"""What there is to play, gathered from a lesson and the files it names."""
