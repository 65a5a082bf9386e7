"""Rewordings that are offered: each is knitted beside the designer's own words, and shown only if true."""
