"""The knitted stitch graph, kept in flat arrays; it knows nothing of words."""
