"""What the student takes home: diagrams, drawn tab, words, practice, the handout."""
