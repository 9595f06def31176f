"""Which lessons are checked, and which of their findings are reported: by rule, by what changed, by what is new."""
