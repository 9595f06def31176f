"""What stands on the first page around the music: its words, their size and their places."""
