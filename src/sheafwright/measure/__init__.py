"""What a photograph shows, in millimetres: straw laid on a printed board."""
