"""What would mend a zone, how surely it works, and how to lay it out: all by solving it again.

The room is pure, like `fieldbook.water`, and may import everything of it. `asked` holds a solution
against all that is asked of a zone. `sizes` lists the pipe that could be laid and searches it,
`fewer` looks for splits, smaller nozzles and how many heads run well, `least_pipe` sizes laterals
before the trench. `certainty` says how far the worst head may be off, and `evenness` how evenly
the heads water. Start at `asked`.

The room `fieldbook.checks.water.advice` maps a job onto these, and holds each answer against all
checks.
"""

from fieldbook.water.advice.asked import NOT_SOLVED, Asked, Outcome, judge
from fieldbook.water.advice.certainty import (
    Band,
    Doubt,
    DoubtName,
    Doubts,
    band_of,
    halving_test_gpm,
    least_static_psi,
    shifted,
)
from fieldbook.water.advice.evenness import run_time_part, uniformity
from fieldbook.water.advice.fewer import Trial, like_last, most_heads, nozzle_parts, splits
from fieldbook.water.advice.least_pipe import least_cost
from fieldbook.water.advice.sizes import (
    Choice,
    Plan,
    Run,
    Search,
    cost_of,
    find_pipe,
    from_the_source,
)

__all__ = [
    "NOT_SOLVED",
    "Asked",
    "Band",
    "Choice",
    "Doubt",
    "DoubtName",
    "Doubts",
    "Outcome",
    "Plan",
    "Run",
    "Search",
    "Trial",
    "band_of",
    "cost_of",
    "find_pipe",
    "from_the_source",
    "halving_test_gpm",
    "judge",
    "least_cost",
    "least_static_psi",
    "like_last",
    "most_heads",
    "nozzle_parts",
    "run_time_part",
    "shifted",
    "splits",
    "uniformity",
]
