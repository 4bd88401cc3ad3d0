"""Checks of the water: pipe rows, heights, each zone's flow, pressures, velocities and surge.

`hydraulics.check_hydraulics` yields the flags; start there. `pipe_tree` sorts the rows of pipe
runs, `heights` and `zone_flow` read the figures, and `networks` maps zones that run together onto
a network of `fieldbook.water`. `zone_solutions` solves each group of zones once per loaded job, and
not again while its network stays the same; `zone_limits` holds its draw against the street,
`zone_certainty` says how far it may be off. `head_pressures`, `velocities`, `zone_flags` and
`zone_status` read them. What would mend a zone is in the room `advice`.

The room may import records, `checks.common` and `checks.finding`, and from `fieldbook.water` and
`fieldbook.trade`. It does not import `checks.wire`.
"""
