"""Which field grows what in which year: a mixed-integer plan, its reasons, its clashes.

`rotation` holds the rules of one field, `paths` all that a field may grow, `model`
puts the fields together for HiGHS, `solve` finds a plan, `clash` why there is none.
"""
