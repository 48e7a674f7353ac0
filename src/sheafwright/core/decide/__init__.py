"""Cut or wait: what is known, what waiting is worth, plain rules, and foresight."""
