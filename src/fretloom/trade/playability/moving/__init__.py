"""The fretting hand in motion: changes, hops, and the time that they take."""
