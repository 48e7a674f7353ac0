"""What becomes of sheaves in the stook: drying, wetting, and what it costs."""
