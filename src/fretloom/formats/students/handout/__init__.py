"""The handout: one page in HTML that holds all a student takes home, and the same as PDF."""
