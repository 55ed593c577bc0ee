"""Two revisions of a liner side by side: what differs, and what of the old one still serves."""
