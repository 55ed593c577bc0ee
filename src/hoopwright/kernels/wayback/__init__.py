"""From readings back to settings: calibration in levels, stop gains, choice of stretches, serials, clocking, plans."""
