"""Circles through measured points, and roundness as orders per turn."""
