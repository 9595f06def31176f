"""What strings sound, for the hand and for the ear, and whether names fit."""
