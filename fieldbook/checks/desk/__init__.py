"""Checks of the papers: permits, tickets and licences, attached files, conflicts between laptops.

`digging` looks at what must hold before and while anybody digs; start there. `file_states` flags
attached files that are missing or altered, `open_conflicts` what laptops entered differently. The
room imports `records`, `checks.common` and `checks.finding`.
"""
