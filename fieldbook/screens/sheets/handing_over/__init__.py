"""The desk's sections on what is settled with the owner, from the first change to the warranty.

`owner_sections.py` builds them from a loaded job: change orders, the punch list, the walk-through
with its sign-off, and warranties. The room may import what `screens.sheets` may; the desk's sheet
puts its sections in their order.
"""
