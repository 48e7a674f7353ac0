"""Plans found by mixed-integer models: which field grows what."""
