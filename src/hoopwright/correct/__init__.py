"""From readings back to settings and tools: diagnosis, calibration, corrections, fits, clocking, change."""
