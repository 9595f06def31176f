"""For applications that are frozen with PyInstaller: which of our modules and files they need."""
