"""The teacher's own script: what to say and to show, in order, and how long it takes."""
