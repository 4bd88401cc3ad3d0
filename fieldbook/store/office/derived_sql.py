"""What the hub holds of each property beside its entries: derived rows, a cache and no evidence.

`fieldbook.board_line` has one row for each property: `line` is its stored board row (the fields of
`board.stored_board.NewRow` without `texts`, `content` as an object), `made_from` the number (`n`)
of the newest of the property's entries that it was made from, `made_by` the role that made it, a
laptop or the keeper. Whoever has the hub's entries can make it anew.
"""

from __future__ import annotations

from fieldbook.store.office.office_tables import LAPTOPS

TABLES = """
CREATE TABLE IF NOT EXISTS fieldbook.board_line (
  job_id text PRIMARY KEY,
  line jsonb NOT NULL,
  made_from bigint NOT NULL,
  made_by text NOT NULL DEFAULT session_user
);
"""

RIGHTS = f"""
GRANT SELECT ON fieldbook.board_line TO {LAPTOPS};
"""
