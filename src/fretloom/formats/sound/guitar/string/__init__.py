"""One string: what it is made of, its partials, and what becomes of them until it is silent."""
