"""One bar: its places in time, what is plucked, how long it rings."""
