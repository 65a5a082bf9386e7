"""The log of a test knit, as a document."""
