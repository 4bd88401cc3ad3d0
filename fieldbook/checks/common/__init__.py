"""What all checks share: how things are named, which rules a job is held to, which cell is meant.

`naming` writes the names and quantities that flags use, `job_rules` gives the figure of each rule
with its source, `cell_refs` the cell of a row that exists once. The room imports `records`, `trade`
and `checks.finding`, and no check. Start at `naming.py`.
"""
