"""Sizing: from a gauge and a list of bodies to whole numbers that work, and patterns to begin from."""
