"""Proof runs: a ring's whole walk on the section kernel, and its tools corrected by what comes out."""
