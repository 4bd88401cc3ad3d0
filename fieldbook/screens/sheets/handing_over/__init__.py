"""The desk's sections on what goes to the property and what is settled with its owner.

`owner_sections.py` builds them from a loaded job: change orders, the punch list, the walk-through
with its sign-off, and warranties; `truck_section.py` builds the load list. The room may import what
`screens.sheets` may; the desk's sheet puts its sections in their order.
"""
