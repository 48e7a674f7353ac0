"""What becomes of sheaves in the rick: heat."""
