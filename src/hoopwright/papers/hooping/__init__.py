"""Pictures of a ring on its segments: at true and exaggerated scale, its roundness, its strain round the girth."""
