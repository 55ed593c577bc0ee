"""From results to SVG, PDF, DXF: drawing and writing only."""
