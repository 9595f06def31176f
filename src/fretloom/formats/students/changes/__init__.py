"""The changes of a song, each as a picture of where the fingers come from."""
