"""How many plants seed makes: its germination."""
