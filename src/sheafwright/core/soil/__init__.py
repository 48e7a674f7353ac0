"""What the ground gives a crop: its nitrogen."""
