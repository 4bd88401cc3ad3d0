"""Closing before winter and opening in spring: the plan of a property, and what each visit did.

`season_plan.py` has what holds from year to year, with the drain points; `season_work.py` the rows
of one visit. Their rows are in no digest of a sign-off: they go on for years after the handover.
"""
