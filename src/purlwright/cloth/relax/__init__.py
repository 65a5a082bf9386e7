"""The shape that a knitted piece takes: its net relaxed until nothing pulls any more."""
