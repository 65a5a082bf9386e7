"""The cloth: what the knitted stitches measure at a gauge, and how they lie."""
