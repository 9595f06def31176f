"""What a house style asks for."""
