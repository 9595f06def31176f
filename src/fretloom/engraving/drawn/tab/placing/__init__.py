"""Where all that a bar has finds room: its frets, its rhythm, its texts, on one scale of time."""
