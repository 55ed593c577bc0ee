"""Data with a basis for every figure: alloys, tool steels, machines, spreads, house limits."""
