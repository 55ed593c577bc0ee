"""Backward: from the wanted part to strip, contours, settings and tools."""
