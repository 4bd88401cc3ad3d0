"""Print how long a season of twelve zones takes: its programmes, and its calendar of a year.

Run it: PYTHONPATH=. python tests/measure_season.py

The figures are of the processor, so that other work on the machine does not count. The zones are
watered under the rule of Melbourne, Florida; first all of them share one permit, as those of a
property do that are watered alike, then each has its own.
"""

from __future__ import annotations

import time
from collections.abc import Callable
from datetime import date

from fieldbook.trade.watering.law_reading import law_from_text
from fieldbook.trade.watering.place_laws import places
from fieldbook.watering.permitted.site_facts import Site, Watered
from fieldbook.watering.permitted.zone_permits import Permit
from fieldbook.watering.programmes.proposal import Wanted, propose
from fieldbook.watering.programmes.season_calendar import Station, season_calendar

ZONES = [str(number) for number in range(1, 13)]
YEAR = date(2027, 1, 1), date(2027, 12, 31)
TIMES = 5


def permit() -> Permit:
    """A permit that has answered for no day yet."""
    site = Site(house_number=17, property="home", water="public", time_zone="America/New_York")
    return Permit(law_from_text(places()["Melbourne, Florida"]), site, Watered())


def best_ms(work: Callable[[], object]) -> float:
    """The shortest of a few runs, in ms of the processor."""
    took = []
    for _ in range(TIMES):
        begun = time.process_time()
        work()
        took.append(1000 * (time.process_time() - begun))
    return min(took)


def main() -> None:
    """Measure and print."""
    shared = permit()
    wanted = [Wanted(name, 40, 3, shared, 10, 60) for name in ZONES]
    programmes = propose(wanted, *YEAR).programmes

    def one_permit() -> None:
        held = permit()
        season_calendar(programmes, [Station(name, held, 10) for name in ZONES], *YEAR)

    def twelve_permits() -> None:
        season_calendar(programmes, [Station(name, permit(), 10) for name in ZONES], *YEAR)

    print(f"calendar of a year, 12 zones, one permit      {best_ms(one_permit):7.1f} ms")
    print(f"calendar of a year, 12 zones, twelve permits  {best_ms(twelve_permits):7.1f} ms")
    worked_out = best_ms(lambda: propose(wanted, *YEAR))
    print(f"programmes of a year, 12 zones                {worked_out:7.1f} ms")


if __name__ == "__main__":
    main()
