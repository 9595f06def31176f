"""One line by a rule of the grammar to a tree of tokens, or to where and why it stops."""
