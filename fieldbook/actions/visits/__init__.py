"""Visits after handover: start and end one, and what is changed on it.

`on_visit.py` adds to an act of any action the rows that say what it changed on the visit under way;
`OpenJob.commit` calls it, so no action knows of visits. `visiting.py` starts and ends a visit, and
notes work that changes no cell; a visit in words is `checks/service/visit_summary.py`. Start with
`visiting.py`.
"""
