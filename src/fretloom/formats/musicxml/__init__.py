"""MusicXML 4.0, plain or packed."""
