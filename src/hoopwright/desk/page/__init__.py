"""What the page asks: one open job folder, and a function for each question of the page."""
