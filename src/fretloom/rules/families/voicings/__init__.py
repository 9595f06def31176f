"""Voicings: a page only, the faults are found in performance/expansion/voicings."""
