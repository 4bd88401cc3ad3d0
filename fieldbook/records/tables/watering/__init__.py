"""The tables of the watering: weather, allowance, sensors, and what each zone waters.

`watering_site.py` has what is entered once for a property, `zone_watering.py` the ground and the
plants of a zone, `programmes.py` what is typed into the controller and what the watering rules go
by. All of it is optional: what is not entered is not checked. As with every table,
one knows no other; `fieldbook.checks.watering` reads them together.
"""
