"""What the drum makes of sheaves, and the days on which it can."""
