"""What is heard: files of notes, of sound and of captions, all made from the playback."""
