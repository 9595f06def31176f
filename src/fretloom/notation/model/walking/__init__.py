"""What is written in a lesson, in written order, each thing with its place."""
