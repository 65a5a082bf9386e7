"""The kinds of clue, one a file: what tells a knitter where she is, and that all is well."""
