"""The wire from valve to controller: which conductor leads where, and whether current gets there.

The package is pure: standard library and `fieldbook.trade` only. It has frozen inputs of its own
and knows no job record; `fieldbook.checks.wire` maps a job onto them.

`colour_join` joins the two ends of the wire by colour and names what does not join. Start there.
`reconciliation` takes everything that was seen (`evidence`: colours, what ran, ohm readings) and
gives links, doubts with what could explain them by likelihood, and causes that terminals share.
Below it: `causes` and `grouping` sort the ends, `tangle` is one group that does not fit,
`wire_search` finds the likeliest ways of joining it, `wire_slips` (hands), `entry_slips` (pencils)
and `currents` (tests and meter) say what a way costs, `costs` by which figures, and `deciding`
picks the next test. `circuit` and `readings` are the arithmetic of wire and meter.

Import from the package: `from fieldbook.wiring import Evidence, reconcile`.
"""

from fieldbook.wiring.circuit import (
    CLASS_2_VA,
    OHM_PER_1000_FT,
    THICKEST_FIRST,
    USUAL_SOIL_DEG_F,
    Currents,
    Run,
    coil_v,
    load_va,
    longest_ft,
    ohm_per_ft,
    smallest_gauge,
    to_short_ft,
)
from fieldbook.wiring.colour_join import Double, End, Join, Misread, Side, Wire, closed, join
from fieldbook.wiring.evidence import (
    LIKELY,
    Cause,
    Conductor,
    DecidingTest,
    Doubt,
    Evidence,
    Explanation,
    Link,
    Mistake,
    Reconciled,
)
from fieldbook.wiring.readings import OPEN_OHM, USUAL_OHM, Meaning, Reading, expected_ohm, judge
from fieldbook.wiring.reconciliation import reconcile

# fmt: off
__all__ = [
    "CLASS_2_VA", "LIKELY", "OHM_PER_1000_FT", "OPEN_OHM", "THICKEST_FIRST", "USUAL_OHM",
    "USUAL_SOIL_DEG_F", "Cause", "Conductor", "Currents", "DecidingTest", "Double", "Doubt", "End",
    "Evidence", "Explanation", "Join", "Link", "Meaning", "Misread", "Mistake", "Reading",
    "Reconciled", "Run", "Side", "Wire", "closed", "coil_v", "expected_ohm", "join", "judge",
    "load_va", "longest_ft", "ohm_per_ft", "reconcile", "smallest_gauge", "to_short_ft",
]
# fmt: on
