"""A roof over an outline: its surface, what stands on it, and what covers it."""
