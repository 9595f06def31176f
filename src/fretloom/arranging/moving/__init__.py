"""What a lesson says besides its voicings, moved to another key: plucks, hops, lines, words."""
