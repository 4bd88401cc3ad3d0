"""A programme on any controller: what is typed, when it runs, whether it may, how to find one.

`controller_programme` is what a crew types: starts, days, minutes by terminal, seasonal percentage,
cycle and soak. `programme_runs` plays it by the day, start behind start. `season_calendar` holds a
season of runs against the permits, the windows and a budget of water; `programme_faults` says what
is wrong with a programme. `run_order` finds the order with the fewest minutes of pause while zones
soak; `proposal` works out programmes with it. Start at `controller_programme`.
"""
