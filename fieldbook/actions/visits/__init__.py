"""Visits after handover: start and end one, its steps, and what is changed on it.

`on_visit.py` adds to an act of any action the rows that say what it changed on the visit under way;
`OpenJob.commit` calls it, so no action knows of visits. `visits.py` starts and ends a visit, and
notes work that changes no cell. `visit_list.py` is a visit as it is read: on its page, by the
command `visits`, on paper. Start with `visits.py`.
"""
