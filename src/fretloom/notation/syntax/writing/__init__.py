"""The model to canonical text: words and signs, and the whole lesson laid out."""
