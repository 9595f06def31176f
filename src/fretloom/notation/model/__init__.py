"""What the teacher wrote, before anything is expanded."""
