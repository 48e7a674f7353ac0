"""What the benchmarks share: the case, the ways of doing it, and how to time them."""
