"""Which segment set and which hits: every sensible choice run on the hoop kernel, best first, with its reason."""
