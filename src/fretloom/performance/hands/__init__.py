"""The performance under two hands: what is held when, and with which fingers."""
