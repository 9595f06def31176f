"""Finds the one sure change that mends a faulty line: ways it may have been meant, each tried by reading it."""
