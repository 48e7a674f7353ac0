"""All file and network reading: weather, forecasts and parameter tables."""
