"""Straw by its stems: rules, how sure a grade is, and how many stems to look at."""
