"""What a student does with a lesson: in which order, at which tempos, for how long."""
