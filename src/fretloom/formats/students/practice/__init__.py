"""The practice path of a lesson as a page of plain text, with boxes to tick."""
