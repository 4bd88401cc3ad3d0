"""The years after handover as they are read: each visit with all that belongs to it.

`visit_summary.py` puts a visit together from its row, its steps, what changed, its readings and its
photos; pages, the command `visits` and papers show it. It imports `records`, `checks.common` and
`checks.progress`.
"""
