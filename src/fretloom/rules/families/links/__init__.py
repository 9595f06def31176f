"""Other files: a page only, the faults are found in notation/loading.py."""
