"""Mechanics: numbers in, numbers out (mm, N, MPa, s, rad, degC). Knows no trade word and no file."""
