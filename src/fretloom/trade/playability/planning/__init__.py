"""The search for the fingerings of a whole song: the graph of its changes, exactly or within bounds."""
