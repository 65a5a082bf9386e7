"""The outputs: each walks a document from first to last and decides nothing about knitting."""
