"""The hub's tables of derived rows, how they are replaced, and how the hub tells that they are old.

`fieldbook.board_line` has one row for each property whose rows were worked out: `line` is its
stored board row (the fields of `board.stored_board.NewRow` without `texts`, `content` as an
object, and `off_board`), `digest` the hash of the entries that all of its derived rows were made
from, `made_from` the number (`n`) of the newest of them, `made_by` the role that made them, a
laptop or the keeper. What is said of the day `as_of` holds up to and with the day `until`.

`fieldbook.row` and `fieldbook.conflict` are the merged rows and the open conflicts, and
`fieldbook.derived` what checks find: flags, dates and what waits. `fieldbook.job_state` says of
which entries a property consists now. The names stay: CREATE OR REPLACE replaces what has the name.
"""

from __future__ import annotations

from fieldbook.store.office.office_tables import LAPTOPS

LARGEST_DERIVED = 20_000_000
"""Bytes of all derived rows of one property as JSON; larger ones are not taken."""

TABLES = """
CREATE TABLE IF NOT EXISTS fieldbook.row (
  "table" text NOT NULL,
  row_id text NOT NULL,
  job_id text NOT NULL,
  cells jsonb NOT NULL,
  PRIMARY KEY ("table", row_id, job_id)
);
CREATE INDEX IF NOT EXISTS row_by_job ON fieldbook.row (job_id, "table");
CREATE TABLE IF NOT EXISTS fieldbook.conflict (
  "table" text NOT NULL,
  row_id text NOT NULL,
  "column" text NOT NULL,
  job_id text NOT NULL,
  kind text NOT NULL,
  heads text[] NOT NULL,
  PRIMARY KEY ("table", row_id, "column", job_id)
);
CREATE INDEX IF NOT EXISTS conflict_by_job ON fieldbook.conflict (job_id);
CREATE TABLE IF NOT EXISTS fieldbook.derived (
  job_id text NOT NULL,
  kind text NOT NULL,
  no integer NOT NULL,
  cells jsonb NOT NULL,
  PRIMARY KEY (kind, job_id, no)
);
CREATE INDEX IF NOT EXISTS derived_by_job ON fieldbook.derived (job_id);
CREATE TABLE IF NOT EXISTS fieldbook.board_line (
  job_id text PRIMARY KEY,
  line jsonb NOT NULL,
  made_from bigint NOT NULL,
  made_by text NOT NULL DEFAULT session_user,
  digest text NOT NULL DEFAULT '',
  made_at timestamptz NOT NULL DEFAULT now(),
  as_of date NOT NULL DEFAULT current_date,
  -- psycopg reads no later date, so that one false row would make every question fail.
  until date NOT NULL DEFAULT '9998-12-31' CHECK (until BETWEEN '0001-01-01' AND '9999-12-31'),
  CHECK (as_of BETWEEN '0001-01-01' AND '9999-12-31')
);
CREATE TABLE IF NOT EXISTS fieldbook.job_state (
  job_id text PRIMARY KEY,
  entries bigint NOT NULL,
  newest bigint NOT NULL,
  digest text NOT NULL,
  sent_by text NOT NULL,
  sent_at timestamptz NOT NULL
);
CREATE INDEX IF NOT EXISTS job_state_by_laptop ON fieldbook.job_state (sent_by, newest);
CREATE TABLE IF NOT EXISTS fieldbook.shared_row (
  "table" text NOT NULL,
  row_id text NOT NULL,
  job_id text NOT NULL,
  PRIMARY KEY ("table", row_id, job_id)
);
CREATE INDEX IF NOT EXISTS shared_row_by_job ON fieldbook.shared_row (job_id);
CREATE INDEX IF NOT EXISTS entry_by_laptop ON fieldbook.entry (pushed_by, n);

CREATE OR REPLACE VIEW fieldbook.freshness AS
SELECT s.job_id, s.digest, s.entries, s.newest, s.sent_by, s.sent_at,
  b.line, b.digest AS made_of, b.made_by, b.made_at, b.as_of, b.until,
  coalesce(b.digest = s.digest, false) AS same_entries,
  -- A laptop whose clock is ahead says what will be so.
  coalesce(b.digest = s.digest AND b.until >= current_date AND b.as_of <= current_date + 1, false)
    AS up_to_date
FROM fieldbook.job_state s LEFT JOIN fieldbook.board_line b ON b.job_id = s.job_id;
"""

# In an older hub a trigger merged the entries in SQL, and the keys of the tables had no job_id.
LEFT_BEHIND = """
DROP TRIGGER IF EXISTS bring_came ON fieldbook.entry;
DROP FUNCTION IF EXISTS fieldbook.bring_came(), fieldbook.bring_row(text, text),
  fieldbook.bring_evidence(text, text, text[]), fieldbook.keep_row(text, text, jsonb),
  fieldbook.keep_conflict(text, text, text, text, text[]), fieldbook.stamps(text[]),
  fieldbook.stamped(jsonb), fieldbook.shown(text[], varbit[], varbit),
  fieldbook.removed(text[], varbit[]), fieldbook.in_order(text, text);
DO $$ BEGIN
  IF (SELECT cardinality(conkey) FROM pg_constraint
      WHERE conrelid = 'fieldbook.row'::regclass AND contype = 'p') = 2 THEN
    ALTER TABLE fieldbook.row DROP CONSTRAINT row_pkey,
      ADD CONSTRAINT row_pkey PRIMARY KEY ("table", row_id, job_id);
    ALTER TABLE fieldbook.conflict DROP CONSTRAINT conflict_pkey,
      ADD CONSTRAINT conflict_pkey PRIMARY KEY ("table", row_id, "column", job_id);
  END IF;
END $$;
"""

_COUNTING = """
-- Every entry that bears on a property: its own, and those that name another property but change
-- one of its rows, which no fieldbook makes.
CREATE OR REPLACE FUNCTION fieldbook.entries_of(of_job text) RETURNS SETOF fieldbook.entry
LANGUAGE sql STABLE AS $$
  SELECT e.* FROM fieldbook.entry e WHERE e.job_id = of_job
  UNION ALL
  SELECT f.* FROM fieldbook.shared_row s
    JOIN fieldbook.entry f ON f.row_id = s.row_id AND f."table" = s."table"
  WHERE s.job_id = of_job AND f.job_id <> of_job
$$;

CREATE OR REPLACE FUNCTION fieldbook.count_job(of_job text) RETURNS void
LANGUAGE sql AS $$
  INSERT INTO fieldbook.job_state (job_id, entries, newest, digest, sent_by, sent_at)
  SELECT of_job, count(*), max(e.n), encode(sha256(convert_to(
      string_agg(e.id, '' ORDER BY e.id COLLATE "C"), 'UTF8')), 'hex'),
    (array_agg(e.pushed_by ORDER BY e.n DESC))[1], (array_agg(e.pushed_at ORDER BY e.n DESC))[1]
  FROM fieldbook.entries_of(of_job) e HAVING count(*) > 0
  ON CONFLICT (job_id) DO UPDATE SET entries = excluded.entries, newest = excluded.newest,
    digest = excluded.digest, sent_by = excluded.sent_by, sent_at = excluded.sent_at
$$;

-- SECURITY DEFINER: a laptop adds entries, and has no right to what is counted of them.
CREATE OR REPLACE FUNCTION fieldbook.count_came() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  touched record;
BEGIN
  -- By look-ups, as at the door: a join makes the planner read the whole table.
  FOR touched IN SELECT DISTINCT c."table", c.row_id, c.job_id FROM came c LOOP
    IF EXISTS (SELECT FROM fieldbook.entry e WHERE e.row_id = touched.row_id
        AND e."table" = touched."table" AND e.job_id <> touched.job_id) THEN
      INSERT INTO fieldbook.shared_row
      SELECT DISTINCT e."table", e.row_id, e.job_id FROM fieldbook.entry e
        WHERE e.row_id = touched.row_id AND e."table" = touched."table"
      ON CONFLICT DO NOTHING;
    END IF;
  END LOOP;
  PERFORM fieldbook.count_job(j.job_id) FROM (
    SELECT c.job_id FROM came c
    UNION
    SELECT s.job_id FROM came c JOIN fieldbook.shared_row s
      ON s.row_id = c.row_id AND s."table" = c."table") j;
  RETURN NULL;
END $$;
"""

_REPLACING = f"""
-- Replace all derived rows of a property; false, and nothing is changed, unless they were made from
-- exactly the entries that the hub has now. A laptop may replace those of any property: they are a
-- cache, and what they are made from nobody can change.
CREATE OR REPLACE FUNCTION fieldbook.put_derived(of_job text, of_digest text, made json)
RETURNS boolean
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  size bigint := octet_length(made::text);
BEGIN
  IF size > {LARGEST_DERIVED} THEN
    RETURN false;
  END IF;
  -- No row, but the trigger takes the turn; only then is read which entries there are.
  INSERT INTO fieldbook.board_line SELECT b.* FROM fieldbook.board_line b WHERE false;
  PERFORM fieldbook.count_sent(size);
  INSERT INTO fieldbook.board_line (job_id, line, made_from, made_by, digest, made_at, as_of, until)
  SELECT s.job_id, (made -> 'line')::jsonb, s.newest, session_user, s.digest, now(),
    (made ->> 'as_of')::date, (made ->> 'until')::date
  FROM fieldbook.job_state s WHERE s.job_id = of_job AND s.digest = of_digest
  ON CONFLICT (job_id) DO UPDATE SET line = excluded.line, made_from = excluded.made_from,
    made_by = excluded.made_by, digest = excluded.digest, made_at = excluded.made_at,
    as_of = excluded.as_of, until = excluded.until;
  IF NOT FOUND THEN
    RETURN false;
  END IF;
  DELETE FROM fieldbook.row r WHERE r.job_id = of_job AND (r."table", r.row_id) NOT IN (
    SELECT x."table", x.row_id FROM json_to_recordset(made -> 'rows') x("table" text, row_id text)
    WHERE x."table" IS NOT NULL AND x.row_id IS NOT NULL);
  INSERT INTO fieldbook.row AS r ("table", row_id, job_id, cells)
  SELECT x."table", x.row_id, of_job, x.cells
    FROM json_to_recordset(made -> 'rows') x("table" text, row_id text, cells jsonb)
  ON CONFLICT ("table", row_id, job_id) DO UPDATE SET cells = excluded.cells
    WHERE r.cells <> excluded.cells;
  DELETE FROM fieldbook.conflict c WHERE c.job_id = of_job;
  INSERT INTO fieldbook.conflict ("table", row_id, "column", job_id, kind, heads)
  SELECT x."table", x.row_id, x."column", of_job, x.kind, x.heads
    FROM json_to_recordset(made -> 'conflicts')
      x("table" text, row_id text, "column" text, kind text, heads text[]);
  DELETE FROM fieldbook.derived d WHERE d.job_id = of_job;
  INSERT INTO fieldbook.derived (job_id, kind, no, cells)
  SELECT of_job, fact ->> 'kind', u.no, (fact -> 'cells')::jsonb
    FROM json_array_elements(made -> 'facts') WITH ORDINALITY u(fact, no);
  RETURN true;
END $$;

-- The properties whose newest entry a laptop sent and whose rows are old, and the hash of their
-- entries. It also notes that the laptop was heard of: one that has nothing to send adds no row.
CREATE OR REPLACE FUNCTION fieldbook.outdated(most integer)
RETURNS TABLE (job_id text, digest text)
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  -- To write takes longer than all else in an exchange of nothing new.
  IF NOT EXISTS (SELECT FROM fieldbook.sent_today s
      WHERE s.laptop = session_user AND s.heard > now() - interval '1 hour') THEN
    PERFORM fieldbook.count_sent(0);
  END IF;
  RETURN QUERY SELECT f.job_id, f.digest FROM fieldbook.freshness f
    WHERE f.sent_by = session_user::text AND NOT f.up_to_date ORDER BY f.newest DESC LIMIT most;
END $$;
"""

FUNCTIONS = "\n".join((_COUNTING, _REPLACING))

# A hub of before has entries that were not counted.
COUNT_ALL = """
DO $$ BEGIN
  IF NOT EXISTS (SELECT FROM fieldbook.job_state) THEN
    INSERT INTO fieldbook.shared_row
    SELECT DISTINCT e."table", e.row_id, e.job_id
    FROM (SELECT "table", row_id FROM fieldbook.entry
      GROUP BY "table", row_id HAVING min(job_id) <> max(job_id)) s
    JOIN fieldbook.entry e ON e.row_id = s.row_id AND e."table" = s."table";
    PERFORM fieldbook.count_job(j.job_id) FROM (SELECT DISTINCT job_id FROM fieldbook.entry) j;
  END IF;
END $$;
"""

TRIGGERS_AND_RIGHTS = f"""
CREATE OR REPLACE TRIGGER count_came AFTER INSERT ON fieldbook.entry
  REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.count_came();
CREATE OR REPLACE TRIGGER one_after_another BEFORE INSERT ON fieldbook.board_line
  FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.one_after_another();
GRANT SELECT ON fieldbook.board_line TO {LAPTOPS};
-- A laptop that holds chosen properties asks of which of the others something is new.
GRANT SELECT (job_id, newest) ON fieldbook.job_state TO {LAPTOPS};
GRANT EXECUTE ON FUNCTION fieldbook.put_derived, fieldbook.outdated TO {LAPTOPS};
"""
