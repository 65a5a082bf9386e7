"""The published sheet: a knitted pattern made into one neutral document, and the outputs that walk it."""
