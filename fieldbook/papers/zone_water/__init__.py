"""A zone's water on one sheet, for the zone's page, the command `picture` and print.

`zone_sheet` puts it together: `zone_summary` (verdict, what holds it, what governs, its flags),
`supply_picture` (what the street gives and what the zone takes, on `plot_axes`), `waterfall` (each
loss from the street to the worst head) and `zone_tree` (the lateral, laid out by `branches`).
Each is drawn on the canvas of the room above, at most so many columns wide, and each draws only
what is known. Every figure is that of `checks.water.zone_status`, which the flags read too.

It may import what papers may. Start with `zone_sheet`.
"""
