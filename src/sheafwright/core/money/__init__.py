"""What a crop costs and brings: exact pence, machines, ranges, cash, what matters."""
