"""Closing and opening a system: how much air empties its pipe, and how slowly water fills it.

`air_and_fill` has the formulas, with frozen inputs of its own: inches, feet, psi and gpm. It knows
no record and imports `units` alone; `checks/season` gives it the pipe of a job. What a person may
do with air is said in the cautions and the season guide, each figure with its source.
"""
