"""What verovio has drawn, made into drawings of our own."""
