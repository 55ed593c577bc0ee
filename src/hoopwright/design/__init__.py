"""The liner as the engineer describes it, and the file that holds it."""
