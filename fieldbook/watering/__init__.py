"""Watering: what each zone needs, how long it runs, when it may run, and the programme for that.

The package is pure: standard library, `fieldbook.units` and `fieldbook.trade` only. It has frozen
inputs of its own and knows no job record; `fieldbook.checks.watering` maps a job onto them.

Start at `zone_need`: `month_need` and `season_needs` take a `ZoneWater` and the weather of the
months and answer one `MonthNeed` a zone and month: days between waterings, minutes, cycles and the
soak between them, gallons, and the steps that lead there. `water_for_days` answers the same where
a rule fixes the days between. Below it: `radiation`, `penman_monteith` and `hargreaves` (reference
ET), `monthly_weather` (which of them a month uses), `plant_water` (factors), `root_zone` (soil),
`rates` and `run_multiplier` (how fast and how evenly), `cycle_soak` (what the soil takes),
`new_plants` (establishment) and `budgets` (the yearly allowance). When a zone may run is in
`day_rules`, `season_calendar` and `programme`, which stand on `zone_need`.

Import from a module: `from fieldbook.watering.zone_need import month_need`.
"""
