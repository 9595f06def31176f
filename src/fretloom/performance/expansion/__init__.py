"""From the page to the performance: names to things, sections to bars, bars to notes."""
