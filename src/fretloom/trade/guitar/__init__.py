"""The instrument: tunings, the fretboard, voicings, picking fingers."""
