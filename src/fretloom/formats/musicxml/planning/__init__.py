"""What is decided before anything is written: staves, transposition, voices, values, slurs."""
