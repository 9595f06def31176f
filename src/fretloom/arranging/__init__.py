"""The same tune another way: another key, a capo, other voicings."""
