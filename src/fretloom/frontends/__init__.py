"""Thin doors to the library, such as the command line."""
