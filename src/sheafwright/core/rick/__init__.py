"""What becomes of sheaves in the rick: room, keeping, heat."""
