"""Pressed end plates, backward: from the drawing to blank, holes, order of work and tool faces."""
