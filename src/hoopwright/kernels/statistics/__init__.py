"""Statistics of small shop samples: summaries, lines, curves, budgets, gauges, tolerance factors, capability."""
