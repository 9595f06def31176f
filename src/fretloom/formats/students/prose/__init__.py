"""Pages that are all words: what they are made of, and how it is written as Markdown and as plain text."""
