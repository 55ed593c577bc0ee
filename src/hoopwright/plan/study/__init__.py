"""How the rings of a shop scatter: thousands of sizings over the stated spreads, shares inside, and what matters."""
