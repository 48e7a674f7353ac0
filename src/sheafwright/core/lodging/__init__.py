"""Whether a crop stands: stems and anchorage against gusts and rain."""
