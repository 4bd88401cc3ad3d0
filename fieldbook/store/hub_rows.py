"""What every row is, worked out at the office as the entries come: merge.py's rules, in SQL.

`fieldbook.row` holds each row that there is, whatever its table, and `fieldbook.conflict` what two
laptops said differently; both are made from the entries and may be made anew. Before each entry of
a row is a string of bits: those of the row's entries that it came after.
"""

from __future__ import annotations

from fieldbook.store.merge import NEVER_CHANGED, NEVER_REMOVED, STAMPS
from fieldbook.store.sealed import ADD, DELETED


def _listed(names: frozenset[str] | tuple[str, ...]) -> str:
    return ", ".join(f"'{name}'" for name in sorted(names))


_BY, _AT = STAMPS

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

_IN_ORDER = f"""
-- The entries of a row whose parents are all here, causes first, each with those before it.
CREATE OR REPLACE FUNCTION fieldbook.in_order(of_table text, of_row text,
  OUT ids text[], OUT ops text[], OUT before varbit[])
LANGUAGE plpgsql STABLE AS $$
DECLARE
  one record;
  parent text;
  place integer;
  mask varbit;
  nothing varbit;
  placed integer := 0;
  already integer;
  waiting integer;
BEGIN
  ids := '{{}}'; ops := '{{}}'; before := '{{}}';
  SELECT repeat('0', count(*)::integer)::varbit INTO nothing
    FROM fieldbook.entry e WHERE e.row_id = of_row AND e."table" = of_table;
  LOOP
    already := placed;
    waiting := 0;
    FOR one IN
      SELECT e.id, e.op, e.parents FROM fieldbook.entry e
      WHERE e.row_id = of_row AND e."table" = of_table AND e.id <> ALL (ids)
      ORDER BY e.clock, e.id COLLATE "C"
    LOOP
      mask := nothing;
      place := 0;
      IF one.op <> '{ADD}' AND cardinality(one.parents) = 0 THEN
        place := NULL;
      END IF;
      FOREACH parent IN ARRAY one.parents LOOP
        place := array_position(ids, parent);
        EXIT WHEN place IS NULL;
        mask := set_bit(mask | before[place], place - 1, 1);
      END LOOP;
      IF place IS NULL THEN
        waiting := waiting + 1;
        CONTINUE;
      END IF;
      placed := placed + 1;
      ids[placed] := one.id;
      ops[placed] := one.op;
      before[placed] := mask;
    END LOOP;
    EXIT WHEN waiting = 0 OR placed = already;
  END LOOP;
END $$;
"""

_REMOVED = f"""
-- What the removals that count came after: they saw all of the row, or what they did not see was
-- entered knowing of them.
CREATE OR REPLACE FUNCTION fieldbook.removed(ops text[], before varbit[]) RETURNS varbit
LANGUAGE plpgsql IMMUTABLE AS $$
DECLARE
  gone varbit := repeat('0', length(before[1]))::varbit;
  saw_all boolean;
BEGIN
  FOR r IN 1 .. cardinality(ops) LOOP
    CONTINUE WHEN ops[r] <> '{DELETED}';
    saw_all := true;
    FOR other IN 1 .. cardinality(ops) LOOP
      IF ops[other] <> '{DELETED}' AND get_bit(before[r], other - 1) = 0
         AND get_bit(before[other], r - 1) = 0 THEN
        saw_all := false;
        EXIT;
      END IF;
    END LOOP;
    IF saw_all THEN
      gone := gone | before[r];
    END IF;
  END LOOP;
  RETURN gone;
END $$;
"""

_SHOWN = f"""
-- What a row's cells show, which of them differ, and the entries that show it.
CREATE OR REPLACE FUNCTION fieldbook.shown(ids text[], before varbit[], gone varbit,
  OUT cells jsonb, OUT differences jsonb, OUT heads text[])
LANGUAGE plpgsql STABLE AS $$
BEGIN
  WITH said AS (
    SELECT u.no, u.id, u.before, e.clock, one.key AS col, one.value AS held,
      CASE one.value WHEN 'true' THEN '1' WHEN 'false' THEN '0' ELSE one.value END AS alike
    FROM unnest(ids, before) WITH ORDINALITY u(id, before, no)
    JOIN fieldbook.entry e ON e.id = u.id
    CROSS JOIN LATERAL jsonb_each(CASE e.op WHEN '{ADD}' THEN e.value::jsonb
      ELSE jsonb_build_object(e.op, e.value::jsonb) END) one
    WHERE e.op <> '{DELETED}' AND one.key NOT IN ({_listed(STAMPS)})
      AND (e.op = '{ADD}' OR one.key <> 'job_id')
  ), seen AS (
    SELECT col, bit_or(said.before) | gone AS bits FROM said GROUP BY col
  ), head AS (
    SELECT said.* FROM said JOIN seen USING (col) WHERE get_bit(seen.bits, said.no::integer - 1) = 0
  ), cell AS (
    SELECT col, (array_agg(held ORDER BY clock DESC, id COLLATE "C" DESC))[1] AS held,
      array_agg(id ORDER BY id COLLATE "C") AS by, count(DISTINCT alike) > 1 AS differ
    FROM head GROUP BY col
  )
  SELECT coalesce(jsonb_object_agg(col, held) FILTER (WHERE held <> 'null'), '{{}}'),
    coalesce(jsonb_object_agg(col, to_jsonb(by)) FILTER (WHERE differ), '{{}}'),
    (SELECT coalesce(array_agg(DISTINCT id), '{{}}') FROM head)
  INTO cells, differences, heads
  FROM cell;
END $$;

CREATE OR REPLACE FUNCTION fieldbook.stamped(added jsonb) RETURNS jsonb
LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  RETURN (SELECT coalesce(jsonb_object_agg(key, value), '{{}}') FROM jsonb_each(added)
    WHERE key IN ({_listed(STAMPS)}));
END $$;

-- Who entered it last, and when: of these entries the latest.
CREATE OR REPLACE FUNCTION fieldbook.stamps(of_entries text[]) RETURNS jsonb
LANGUAGE plpgsql STABLE AS $$
BEGIN
  RETURN (SELECT jsonb_build_object('{_BY}', e.who, '{_AT}', e.wall)
      || CASE e.op WHEN '{ADD}' THEN fieldbook.stamped(e.value::jsonb) ELSE '{{}}' END
    FROM fieldbook.entry e WHERE e.id = ANY (of_entries)
    ORDER BY e.clock DESC, e.id COLLATE "C" DESC LIMIT 1);
END $$;
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
  IF of_table IN ({_listed(NEVER_CHANGED)}) THEN
    PERFORM fieldbook.bring_evidence(of_table, of_row, was.ids);
    RETURN;
  ELSIF cardinality(was.ids) > 0 THEN
    gone := repeat('0', length(was.before[1]))::varbit;
    IF of_table NOT IN ({_listed(NEVER_REMOVED)}) AND '{DELETED}' = ANY (was.ops) THEN
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
    ARRAY(SELECT jsonb_array_elements_text(value))) FROM jsonb_each(shown.differences);
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
      || jsonb_build_object('{_BY}', c.who, '{_AT}', c.wall) || fieldbook.stamped(c.value::jsonb))
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

FUNCTIONS = "\n".join((_IN_ORDER, _REMOVED, _SHOWN, _KEPT, _BROUGHT))

TRIGGER = """
CREATE OR REPLACE TRIGGER bring_came AFTER INSERT ON fieldbook.entry
  REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.bring_came();
"""
