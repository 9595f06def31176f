"""The lesson as the teacher writes it: its model, its text, its JSON, and the files it names."""
