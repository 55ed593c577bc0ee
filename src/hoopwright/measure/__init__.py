"""From raw readings to statements: files of readings, corrections, uncertainty, decisions, inspection plans."""
