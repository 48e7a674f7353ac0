"""Constants of nature, calendar and measure that more than one module needs."""

HOURS_PER_DAY = 24.0
DAYS_PER_YEAR = 365
GRAVITY = 9.81
"""[m s⁻²]"""
SQUARE_METRES_PER_HECTARE = 10_000.0
KG_PER_T, CM_PER_M = 1000.0, 100.0
