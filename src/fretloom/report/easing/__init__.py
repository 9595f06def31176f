"""For which level a lesson is, and what was made easier in it: in words and as JSON."""
