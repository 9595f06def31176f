"""What shells and `man` know of the command, made from its parsers."""
