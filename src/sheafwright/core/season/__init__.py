"""The season as a whole: what a crop is worth by the day it is cut."""
