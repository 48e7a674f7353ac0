"""Work in the field and on the road: hours, hands, loads, twine."""
