"""The soft reader: the smallest change of the words that makes the rest of a pattern come true."""
