"""The place “service”: visits, measuring, the seasons, warranties and the walk-through.

`service_sheet.py` puts the sections of the others below each other, in the order of its one list.
To add sections write a file here with a function from a job to sections, name it in that list, and
where its cells are asked for, its count in the list below. Before handover the place is short: a
builder yields nothing while its sections are of no use yet.

It may import what `sheets` may. Start with `service_sheet.py`, then `visit_sections.py`.
"""
