"""Every row that there is at the office, made from the entries as they come.

`fieldbook.row` holds each row, whatever its table, and `fieldbook.conflict` what two laptops said
differently; both are made from the entries (row_state.py) and may be made anew.
"""

from __future__ import annotations

from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import NEVER_CHANGED, NEVER_REMOVED
from fieldbook.store.office.merge_sql import AT, BY, listed
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

_KEPT = f"""
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

-- Evidence is what was added first; another version of it is told, never shown for it.
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

_BROUGHT = f"""
CREATE OR REPLACE FUNCTION fieldbook.bring_row(of_table text, of_row text) RETURNS void
LANGUAGE plpgsql AS $$
DECLARE
  was record;
  shown record;
  gone varbit;
  seen varbit;
  added text[] := '{{}}';
  standing text[];
BEGIN
  DELETE FROM fieldbook.conflict c WHERE c."table" = of_table AND c.row_id = of_row;
  was := fieldbook.in_order(of_table, of_row);
  IF of_table IN ({listed(NEVER_CHANGED)}) THEN
    PERFORM fieldbook.bring_evidence(of_table, of_row, was.ids);
    RETURN;
  ELSIF cardinality(was.ids) > 0 THEN
    gone := repeat('0', length(was.before[1]))::varbit;
    IF of_table NOT IN ({listed(NEVER_REMOVED)}) AND '{DELETED}' = ANY (was.ops) THEN
      gone := fieldbook.removed(was.ops, was.before);
    END IF;
    SELECT bit_or(b) | gone INTO seen FROM unnest(was.ops, was.before) u(op, b) WHERE op = '{ADD}';
    SELECT coalesce(array_agg(id), '{{}}') INTO added
      FROM unnest(was.ids, was.ops) WITH ORDINALITY u(id, op, no)
      WHERE op = '{ADD}' AND get_bit(seen, no::integer - 1) = 0;
  END IF;
  IF cardinality(added) = 0 THEN
    DELETE FROM fieldbook.row r WHERE r."table" = of_table AND r.row_id = of_row;
    RETURN;
  END IF;
  shown := fieldbook.shown(was.ids, was.before, gone);
  PERFORM fieldbook.keep_row(of_table, of_row,
    shown.cells || fieldbook.stamps(added || shown.heads));
  PERFORM fieldbook.keep_conflict(of_table, of_row, key, 'cell',
    ARRAY(SELECT jsonb_array_elements_text(value))) FROM jsonb_each(shown.differences)
    WHERE length(key) <= {LONGEST_NAME};
  SELECT bit_or(b) INTO seen FROM unnest(was.before) b;
  SELECT array_agg(id ORDER BY id COLLATE "C") INTO standing
    FROM unnest(was.ids, was.ops) WITH ORDINALITY u(id, op, no)
    WHERE op = '{DELETED}' AND get_bit(seen, no::integer - 1) = 0;
  IF standing IS NOT NULL THEN
    PERFORM fieldbook.keep_conflict(of_table, of_row, '{DELETED}', 'removed', standing);
  END IF;
END $$;

CREATE OR REPLACE FUNCTION fieldbook.bring_all() RETURNS void LANGUAGE sql AS $$
  SELECT fieldbook.bring_row("table", row_id)
  FROM (SELECT DISTINCT "table", row_id FROM fieldbook.entry) touched
$$;

CREATE OR REPLACE FUNCTION fieldbook.bring_came() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  -- Most rows come with one entry and are what it says: these in one go.
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

FUNCTIONS = "\n".join((_KEPT, _BROUGHT))

TRIGGER = """
CREATE OR REPLACE TRIGGER bring_came AFTER INSERT ON fieldbook.entry
  REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.bring_came();
"""
