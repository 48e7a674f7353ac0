"""Tomorrow's plan by half-days: who does what, with which machine, on which farm.

`problem` says what there is to do and with whom, `solve` finds a plan with CP-SAT and
changes one as little as it can, `check` proves a plan and shares no code with them.
"""
