"""What is wrong with a lesson: the checks, their pages, waivers."""
