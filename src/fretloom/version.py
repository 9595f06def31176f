"""The version; the package and `fretloom.__version__` take it from here."""

VERSION = "0.1.0"
