"""Geometric checks of a liner, one idea a module; `hoopwright.design.geometry_checks` runs them all."""
