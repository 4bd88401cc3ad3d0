"""The views on what was worked out of each property besides its rows, and on the laptops.

Each of them has at least one row for a property that is not up to date, with `up_to_date` false: so
that an office which asks for stops never takes the silence of a property for an answer.
"""

from __future__ import annotations

FACTS = {
    "flag": (
        "severity",
        "check_name",
        "code",
        "thing",
        "sentence",
        "mend",
        "place",
        "table",
        "row_id",
        "column",
        "source",
    ),
    "waiting": ("what", "on", "waits_for"),
    "due": ("kind", "thing", "on"),
    "hold_point": ("title", "sign_off", "stretch", "missing", "table", "row_id", "column"),
}
"""The kinds of facts, and the cells of each, all text.

- `flag`: a flag, whose severity is stop, fix or note, or what a check had to leave open, with the
  severity "not checked"; `thing` is what was looked at, `table`, `row_id` and `column` the cell.
- `waiting`: what can't be done yet, the day on which it can (or NULL), and what it waits for.
- `due`: what runs out or falls due, its kind and its day, in ISO 8601.
- `hold_point`: what a hold point misses, the sign-off that it keeps back, and the cell.
"""
NOT_UP_TO_DATE = "not up to date"
"""What the first cell says where nothing was worked out of a property."""

# A laptop that puts no row of the property itself there can't make it vanish.
_PROPERTY = """
CREATE OR REPLACE VIEW fieldbook.property AS SELECT
  f.job_id, f.entries, f.sent_by, f.sent_at, f.line, f.made_by, f.made_at, f.as_of, f.until,
  CASE WHEN j.row_id IS NOT NULL THEN f.made_of END AS made_of,
  f.same_entries AND j.row_id IS NOT NULL AS same_entries,
  f.up_to_date AND j.row_id IS NOT NULL AS up_to_date,
  coalesce(CASE WHEN j.row_id IS NULL THEN (SELECT e.value::jsonb ->> 'address'
      FROM fieldbook.entry e
      WHERE e.row_id = f.job_id AND e."table" = 'job' AND e.op = 'add' ORDER BY e.n LIMIT 1)
    WHEN jsonb_typeof(j.cells -> 'address') = 'string' THEN j.cells ->> 'address' END, '')
    AS address,
  coalesce(j.cells ->> 'off_board' IN ('1', 'true'), false) AS off_board
FROM fieldbook.freshness f
LEFT JOIN fieldbook.row j ON j."table" = 'job' AND j.row_id = f.job_id AND j.job_id = f.job_id
WHERE j.row_id IS NOT NULL OR EXISTS (SELECT FROM fieldbook.entry e
  WHERE e.row_id = f.job_id AND e."table" = 'job' AND e.op = 'add')
"""


def _count(name: str) -> str:
    """A count on the board row; NULL where somebody put something else there."""
    text = f"(p.line -> 'content' ->> '{name}')"
    return f"CASE WHEN {text} ~ '^[0-9]{{1,18}}$' THEN {text}::bigint END"


_BOARD = f"""
CREATE OR REPLACE VIEW office.board AS SELECT
  p.job_id, p.address, p.line -> 'content' ->> 'customer' AS customer,
  {_count("zones")} AS zones, {_count("flushed")} AS flushed,
  p.line -> 'content' ->> 'next' AS next, {_count("stops")} AS stops, {_count("fixes")} AS fixes,
  {_count("notes")} AS notes, {_count("open")} AS not_checked,
  p.up_to_date, CASE WHEN p.up_to_date THEN '' WHEN p.made_of IS NULL THEN 'nothing is worked out'
    WHEN p.made_of = '' THEN 'made by a laptop that was removed'
    WHEN NOT p.same_entries THEN 'entries are newer'
    WHEN p.as_of > current_date + 1 THEN 'made by a clock that is ahead'
    ELSE 'its flags held until ' || p.until END AS why_not,
  p.entries, p.sent_at AS last_entry_at, p.sent_by AS last_entry_from,
  p.made_by, p.made_at, p.as_of, p.until, p.off_board
FROM fieldbook.property p
"""
_LAPTOPS = """
CREATE OR REPLACE VIEW office.laptop AS SELECT
  l.name, l.added, l.removed, s.heard, e.pushed_at AS last_entry_at, e.who AS last_entry_by,
  e.what AS last_entry, e.job_id
FROM fieldbook.laptop l
LEFT JOIN fieldbook.sent_today s ON s.laptop = l.name
LEFT JOIN LATERAL (SELECT * FROM fieldbook.entry e WHERE e.pushed_by = l.name
  ORDER BY e.n DESC LIMIT 1) e ON true
"""


def _fact_view(kind: str) -> str:
    first, *others = FACTS[kind]
    cells = ", ".join(f"d.cells ->> '{name}' AS \"{name}\"" for name in others)
    return f"""
CREATE OR REPLACE VIEW office.{kind} AS SELECT p.job_id, p.address,
  CASE WHEN d.job_id IS NULL THEN '{NOT_UP_TO_DATE}' ELSE d.cells ->> '{first}' END AS "{first}",
  {cells}, p.up_to_date, p.as_of
FROM fieldbook.property p
LEFT JOIN fieldbook.derived d ON d.kind = '{kind}' AND d.job_id = p.job_id
WHERE d.job_id IS NOT NULL OR NOT p.up_to_date
"""


DERIVED_VIEWS = (_PROPERTY, _BOARD, _LAPTOPS, *map(_fact_view, FACTS))
