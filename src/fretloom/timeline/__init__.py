"""What is heard, bar after bar."""
