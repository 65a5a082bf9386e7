"""Patterns to begin from, each written from a gauge and a list of bodies."""
