"""The rows of the record at the office, worked out in SQL whenever entries arrive.

`fieldbook.row` holds every row of every table, `fieldbook.conflict` the open conflicts. Both follow
from the entries by the functions of `merge_sql.py`.
"""

from __future__ import annotations

from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import NEVER_CHANGED, NEVER_REMOVED
from fieldbook.store.office.merge_sql import AT, BY, sql_texts
from fieldbook.store.office.office_tables import LONGEST_NAME

TABLES = """
CREATE TABLE IF NOT EXISTS fieldbook.row (
  "table" text NOT NULL,
  row_id text NOT NULL,
  job_id text NOT NULL,
  cells jsonb NOT NULL,
  PRIMARY KEY ("table", row_id)
);
CREATE INDEX IF NOT EXISTS row_by_job ON fieldbook.row (job_id, "table");
CREATE TABLE IF NOT EXISTS fieldbook.conflict (
  "table" text NOT NULL,
  row_id text NOT NULL,
  "column" text NOT NULL,
  job_id text NOT NULL,
  kind text NOT NULL,
  heads text[] NOT NULL,
  PRIMARY KEY ("table", row_id, "column")
);
CREATE INDEX IF NOT EXISTS conflict_by_job ON fieldbook.conflict (job_id);
"""

_STORE = f"""
CREATE OR REPLACE FUNCTION fieldbook.keep_row(of_table text, of_row text, held jsonb)
RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO fieldbook.row VALUES (of_table, of_row,
    CASE of_table WHEN 'job' THEN of_row ELSE coalesce(held ->> 'job_id', '') END, held)
  ON CONFLICT ("table", row_id) DO UPDATE SET job_id = excluded.job_id, cells = excluded.cells;
END $$;

CREATE OR REPLACE FUNCTION fieldbook.keep_conflict(of_table text, of_row text, col text,
  of_kind text, of_heads text[]) RETURNS void LANGUAGE plpgsql AS $$
BEGIN
  INSERT INTO fieldbook.conflict
  SELECT of_table, of_row, col, coalesce(min(r.job_id), ''), of_kind, of_heads
  FROM fieldbook.row r WHERE r."table" = of_table AND r.row_id = of_row;
END $$;

-- Evidence shows its first addition; whatever differs from it is a conflict.
CREATE OR REPLACE FUNCTION fieldbook.bring_evidence(of_table text, of_row text, ids text[])
RETURNS void LANGUAGE plpgsql AS $$
DECLARE
  first record;
  others text[];
BEGIN
  SELECT e.id, e.value::jsonb AS held INTO first FROM fieldbook.entry e
    WHERE e.id = ANY (ids) AND e.op = '{ADD}' ORDER BY e.clock, e.id COLLATE "C" LIMIT 1;
  IF NOT FOUND THEN
    RETURN;
  END IF;
  PERFORM fieldbook.keep_row(of_table, of_row,
    jsonb_strip_nulls(first.held) || fieldbook.stamps(ARRAY[first.id]));
  SELECT array_agg(e.id ORDER BY e.id COLLATE "C") INTO others FROM fieldbook.entry e
    WHERE e.id = ANY (ids) AND (e.op <> '{ADD}' OR e.value::jsonb <> first.held);
  IF others IS NOT NULL THEN
    PERFORM fieldbook.keep_conflict(of_table, of_row, '', 'evidence', first.id || others);
  END IF;
END $$;
"""

_REBUILD = f"""
-- Make one row, and its conflicts, what its entries say.
CREATE OR REPLACE FUNCTION fieldbook.bring_row(of_table text, of_row text) RETURNS void
LANGUAGE plpgsql AS $$
DECLARE
  entries record;
  shown record;
  gone varbit;
  superseded varbit;
  additions text[] := '{{}}';
  uncounted text[];
BEGIN
  DELETE FROM fieldbook.conflict c WHERE c."table" = of_table AND c.row_id = of_row;
  entries := fieldbook.in_order(of_table, of_row);
  IF of_table IN ({sql_texts(NEVER_CHANGED)}) THEN
    PERFORM fieldbook.bring_evidence(of_table, of_row, entries.ids);
    RETURN;
  ELSIF cardinality(entries.ids) > 0 THEN
    gone := repeat('0', length(entries.before[1]))::varbit;
    IF of_table NOT IN ({sql_texts(NEVER_REMOVED)}) AND '{DELETED}' = ANY (entries.ops) THEN
      gone := fieldbook.removed(entries.ops, entries.before);
    END IF;
    SELECT bit_or(b) | gone INTO superseded
      FROM unnest(entries.ops, entries.before) u(op, b) WHERE op = '{ADD}';
    SELECT coalesce(array_agg(id), '{{}}') INTO additions
      FROM unnest(entries.ids, entries.ops) WITH ORDINALITY u(id, op, no)
      WHERE op = '{ADD}' AND get_bit(superseded, no::integer - 1) = 0;
  END IF;
  IF cardinality(additions) = 0 THEN
    DELETE FROM fieldbook.row r WHERE r."table" = of_table AND r.row_id = of_row;
    RETURN;
  END IF;
  shown := fieldbook.shown(entries.ids, entries.before, gone);
  PERFORM fieldbook.keep_row(of_table, of_row,
    shown.cells || fieldbook.stamps(additions || shown.heads));
  PERFORM fieldbook.keep_conflict(of_table, of_row, key, 'cell',
    ARRAY(SELECT jsonb_array_elements_text(value))) FROM jsonb_each(shown.differences)
    WHERE length(key) <= {LONGEST_NAME};
  SELECT bit_or(b) INTO superseded FROM unnest(entries.before) b;
  SELECT array_agg(id ORDER BY id COLLATE "C") INTO uncounted
    FROM unnest(entries.ids, entries.ops) WITH ORDINALITY u(id, op, no)
    WHERE op = '{DELETED}' AND get_bit(superseded, no::integer - 1) = 0;
  IF uncounted IS NOT NULL THEN
    PERFORM fieldbook.keep_conflict(of_table, of_row, '{DELETED}', 'removed', uncounted);
  END IF;
END $$;

-- SECURITY DEFINER: a laptop adds entries, and has no right to the tables that follow from them.
CREATE OR REPLACE FUNCTION fieldbook.bring_came() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  -- Most rows have one entry, their addition. All of these are made in one statement, without the
  -- merge: 1,000 entries arrive in a fraction of the time.
  PERFORM fieldbook.keep_row(c."table", c.row_id, jsonb_strip_nulls(c.value::jsonb)
      || jsonb_build_object('{BY}', c.who, '{AT}', c.wall) || fieldbook.stamped(c.value::jsonb))
    FROM came c
    WHERE c.op = '{ADD}' AND cardinality(c.parents) = 0 AND NOT EXISTS (
      SELECT FROM fieldbook.entry e
      WHERE e.row_id = c.row_id AND e."table" = c."table" AND e.id <> c.id);
  PERFORM fieldbook.bring_row(touched."table", touched.row_id) FROM (
    SELECT DISTINCT c."table", c.row_id FROM came c
    WHERE c.op <> '{ADD}' OR cardinality(c.parents) > 0 OR EXISTS (
      SELECT FROM fieldbook.entry e
      WHERE e.row_id = c.row_id AND e."table" = c."table" AND e.id <> c.id)) touched;
  RETURN NULL;
END $$;
"""

FUNCTIONS = "\n".join((_STORE, _REBUILD))

TRIGGER = """
CREATE OR REPLACE TRIGGER bring_came AFTER INSERT ON fieldbook.entry
  REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.bring_came();
"""
