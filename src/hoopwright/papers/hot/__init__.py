"""Papers of the hot build: growth sheet, seal sheet, washer drawing, spring load sheet."""
