"""Forecasts from a file or an address, as whole days ahead."""
