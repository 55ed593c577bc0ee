"""What `start.py` does: set-up, stages of the test run, wheel check, sizes, change log. Standard library only."""
