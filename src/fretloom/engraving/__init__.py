"""How music is put on a staff: note values, tuplets, voices, beams and spelling; no file format."""
