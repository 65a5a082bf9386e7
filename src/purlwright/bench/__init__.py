"""The bench: the whole job in one web page on her own machine, served on loopback only."""
