"""A shop's own tensile tests: CSV in, flow curve, r-value and a card of its own out."""
