"""Charts: the knitted rows in squares, the squares in words, and both drawn."""
