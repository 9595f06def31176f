"""What a page plays by itself: its notes as data, and the script that makes them heard with Web Audio."""
