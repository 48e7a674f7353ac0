"""What the drum makes of sheaves."""
