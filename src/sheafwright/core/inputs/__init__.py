"""Frozen parameter sets: plain values that feeds fill from the tables."""
