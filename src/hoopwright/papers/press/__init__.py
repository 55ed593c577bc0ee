"""Papers of the pressed end plate: blank, pressing plan, both tools, try-out record."""
