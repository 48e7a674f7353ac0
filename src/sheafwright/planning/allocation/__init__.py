"""Who gets which lot: a mixed-integer plan, its reasons, and its proof.

`problem` says who wants what and what there is, `model` puts it together for HiGHS,
`solve` finds a plan and what it would cost to fill an order that it leaves open,
`reasons` why a lot doesn't suit, and `check` proves a plan by sums of its own.
"""
