"""The sections of the watering on three sheets: what is entered, and what follows from it.

`zone_water_sections` has the ground and plants of each zone (at the ground), `weather_sections` the
months, the allowance and the rebate papers (at the desk), `need_sections` the sensors and what each
zone needs by month (at the controller). Enter or `?` on a figure shows how it came about: its cell
has a `ShowSteps`. The room may import what `screens.sheets` may; the sheets put its sections in
their order.
"""
