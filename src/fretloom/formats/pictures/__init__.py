"""Pictures of the engraved score: SVG, PNG and PDF, drawn by verovio, which is installed only if it is wanted."""
