"""The question about two properties with one address: are they one, or does one get another."""

from __future__ import annotations

from datetime import date

from fieldbook.actions.conflicts.question import ADDRESS, Option, Question
from fieldbook.actions.joining.join_properties import (
    TwoProperties,
    join_properties,
    which_stays,
)
from fieldbook.actions.joining.same_cells import count_differing
from fieldbook.actions.open_job import OpenJob
from fieldbook.actions.refused import RefusedError
from fieldbook.actions.visits.on_visit import changes_on_visit
from fieldbook.checks.desk.open_conflicts import other_words
from fieldbook.checks.finding import CellRef
from fieldbook.records.neighbours import Neighbour

_HOW = (
    "Joining enters all rows of one in the other, with who entered them; the one brought over "
    "leaves the board. Zones and boxes that both have are asked about next."
)


def address_questions(open_job: OpenJob) -> list[Question]:
    """A question for each property with this one's address, or with entries made since a join."""
    return [_question(open_job, other) for other in open_job.job.neighbours]


def _question(open_job: OpenJob, other: Neighbour) -> Question:
    name, options, notes = other_words(other), list[Option](), list[str]()
    try:
        options.append(_join(open_job, other))
    except RefusedError as why:
        notes.append(str(why))
    if other.later:
        explanation = f"It was joined with {name}, on which another laptop went on."
    else:
        explanation = f"Another property has this address: {name}."
        explanation += f" {_HOW}" if options else ""
        explanation += " What is typed is the address of this one."
    at = CellRef("job", open_job.job_id, "address")
    title = "Property joined with this one" if other.later else "Address, given twice"
    return Question(
        ADDRESS, title, explanation, at, tuple(options), tuple(notes), typed=not other.later
    )


def _join(open_job: OpenJob, other: Neighbour) -> Option:
    """The option that joins the two; raises RefusedError where they can't be."""
    book, here = open_job.book, open_job.job
    kept, given_up = which_stays(here, book.load(other.job_id))
    two = TwoProperties(
        kept, given_up, book.once_had(kept.job.id), book.count_entries(given_up.job.id)
    )
    changes = join_properties(two)
    name, stays = other_words(other), kept is here
    words = f"the same property: bring {name} over to this one"
    if other.later:
        words = f"bring over what {name} has more"
    elif not stays:
        words = f"the same property: bring this one over to {name}"
        # The act is one of the other property: what it changes on a visit there is kept there.
        changes += changes_on_visit(kept, changes, date.today())
    differ = count_differing(changes)
    done = f"Joined with {name}." if stays else f"Joined: open {name} from the board."
    if differ:
        done += " In 1 cell the two differ." if differ == 1 else f" {differ} cells differ."
    by = f"entered by {other.by or '?'}, {other.at[:16].replace('T', ' ')}"
    what = f"{name} joined with it"
    return Option(words, (by,), tuple(changes), what, done, kept.job.id)
