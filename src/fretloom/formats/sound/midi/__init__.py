"""Standard MIDI Files: what is played, for every player and synthesiser."""
