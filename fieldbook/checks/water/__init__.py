"""Checks of the water: pipe rows, heights, each zone's flow, pressures, velocities and surge.

`hydraulics.check_hydraulics` yields the flags; start there. `pipe_tree` sorts the rows of pipe
runs, `heights` and `zone_flow` read the figures, and `networks` maps zones that run together onto
a network of `fieldbook.water`. `zone_solutions` solves each group of zones once per loaded job;
`head_pressures`, `velocities`, `zone_status` and `zone_remedies` read it.

The room may import records, `checks.common` and `checks.finding`, and from `fieldbook.water` and
`fieldbook.trade`. It does not import `checks.wire`.
"""
