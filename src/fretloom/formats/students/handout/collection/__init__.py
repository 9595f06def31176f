"""The page that leads to the handouts of many lessons."""
