"""What the lines say: a page only, the faults are found in notation/syntax."""
