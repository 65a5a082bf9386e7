"""From what a knitter can see of her work: where she is, what went wrong, and what mends it."""
