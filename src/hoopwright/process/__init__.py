"""What each shop operation does to the metal."""
