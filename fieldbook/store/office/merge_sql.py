"""The rules of `journal/merge.py` as SQL functions: the office shows the rows that books show.

`tests/hub/test_rows_at_the_office.py` holds the two together. The names of functions and of their
arguments are part of the hub's layout: CREATE OR REPLACE FUNCTION accepts no other argument names,
and under a new function name the old function would stay behind.

The ancestors of an entry are a string of bits, one for each entry of the row, in an array `before`
that is parallel to `ids` and `ops`.
"""

from __future__ import annotations

from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import STAMPS

BY, AT = STAMPS


def sql_texts(names: frozenset[str] | tuple[str, ...]) -> str:
    """Names as a list of SQL texts, for IN (...)."""
    return ", ".join(f"'{name}'" for name in sorted(names))


_IN_ORDER = f"""
-- The entries of a row that do not wait, parents first, each with its ancestors. Passes over what
-- is left until a pass places nothing.
CREATE OR REPLACE FUNCTION fieldbook.in_order(of_table text, of_row text,
  OUT ids text[], OUT ops text[], OUT before varbit[])
LANGUAGE plpgsql STABLE AS $$
DECLARE
  candidate record;
  parent text;
  parent_at integer;
  ancestors varbit;
  none varbit;
  placed integer := 0;
  placed_before integer;
  waiting integer;
BEGIN
  ids := '{{}}'; ops := '{{}}'; before := '{{}}';
  SELECT repeat('0', count(*)::integer)::varbit INTO none
    FROM fieldbook.entry e WHERE e.row_id = of_row AND e."table" = of_table;
  LOOP
    placed_before := placed;
    waiting := 0;
    FOR candidate IN
      SELECT e.id, e.op, e.parents FROM fieldbook.entry e
      WHERE e.row_id = of_row AND e."table" = of_table AND e.id <> ALL (ids)
      ORDER BY e.clock, e.id COLLATE "C"
    LOOP
      ancestors := none;
      parent_at := 0;
      IF candidate.op <> '{ADD}' AND cardinality(candidate.parents) = 0 THEN
        parent_at := NULL;
      END IF;
      FOREACH parent IN ARRAY candidate.parents LOOP
        parent_at := array_position(ids, parent);
        EXIT WHEN parent_at IS NULL;
        ancestors := set_bit(ancestors | before[parent_at], parent_at - 1, 1);
      END LOOP;
      IF parent_at IS NULL THEN
        waiting := waiting + 1;
        CONTINUE;
      END IF;
      placed := placed + 1;
      ids[placed] := candidate.id;
      ops[placed] := candidate.op;
      before[placed] := ancestors;
    END LOOP;
    EXIT WHEN waiting = 0 OR placed = placed_before;
  END LOOP;
END $$;
"""

_REMOVED = f"""
-- The entries that the removals which count supersede. A removal counts if every entry but removals
-- is an ancestor of it or has it as an ancestor.
CREATE OR REPLACE FUNCTION fieldbook.removed(ops text[], before varbit[]) RETURNS varbit
LANGUAGE plpgsql IMMUTABLE AS $$
DECLARE
  gone varbit := repeat('0', length(before[1]))::varbit;
  saw_all boolean;
BEGIN
  FOR removal IN 1 .. cardinality(ops) LOOP
    CONTINUE WHEN ops[removal] <> '{DELETED}';
    saw_all := true;
    FOR other IN 1 .. cardinality(ops) LOOP
      IF ops[other] <> '{DELETED}' AND get_bit(before[removal], other - 1) = 0
         AND get_bit(before[other], removal - 1) = 0 THEN
        saw_all := false;
        EXIT;
      END IF;
    END LOOP;
    IF saw_all THEN
      gone := gone | before[removal];
    END IF;
  END LOOP;
  RETURN gone;
END $$;
"""

_SHOWN = f"""
-- The values that a row's cells show, by column the ids of entries in conflict, and the ids of all
-- entries that are the latest of a cell. true and 1 are one value, as in a book.
CREATE OR REPLACE FUNCTION fieldbook.shown(ids text[], before varbit[], gone varbit,
  OUT cells jsonb, OUT differences jsonb, OUT heads text[])
LANGUAGE plpgsql STABLE AS $$
BEGIN
  WITH entered AS (
    SELECT u.no, u.id, u.before, e.clock, cell.key AS col, cell.value AS held,
      CASE cell.value WHEN 'true' THEN '1' WHEN 'false' THEN '0' ELSE cell.value END AS alike
    FROM unnest(ids, before) WITH ORDINALITY u(id, before, no)
    JOIN fieldbook.entry e ON e.id = u.id
    CROSS JOIN LATERAL jsonb_each(CASE e.op WHEN '{ADD}' THEN e.value::jsonb
      ELSE jsonb_build_object(e.op, e.value::jsonb) END) cell
    WHERE e.op <> '{DELETED}' AND cell.key NOT IN ({sql_texts(STAMPS)})
      AND (e.op = '{ADD}' OR cell.key <> 'job_id')
  ), superseded AS (
    SELECT col, bit_or(entered.before) | gone AS bits FROM entered GROUP BY col
  ), latest AS (
    SELECT entered.* FROM entered JOIN superseded USING (col)
    WHERE get_bit(superseded.bits, entered.no::integer - 1) = 0
  ), cell AS (
    SELECT col, (array_agg(held ORDER BY clock DESC, id COLLATE "C" DESC))[1] AS held,
      array_agg(id ORDER BY id COLLATE "C") AS by, count(DISTINCT alike) > 1 AS differ
    FROM latest GROUP BY col
  )
  SELECT coalesce(jsonb_object_agg(col, held) FILTER (WHERE held <> 'null'), '{{}}'),
    coalesce(jsonb_object_agg(col, to_jsonb(by)) FILTER (WHERE differ), '{{}}'),
    (SELECT coalesce(array_agg(DISTINCT id), '{{}}') FROM latest)
  INTO cells, differences, heads
  FROM cell;
END $$;

-- The stamps that an added row brings along, as one imported from a job file does.
CREATE OR REPLACE FUNCTION fieldbook.stamped(added jsonb) RETURNS jsonb
LANGUAGE plpgsql IMMUTABLE AS $$
BEGIN
  RETURN (SELECT coalesce(jsonb_object_agg(key, value), '{{}}') FROM jsonb_each(added)
    WHERE key IN ({sql_texts(STAMPS)}));
END $$;

-- Who entered the row, and when: of the newest of these entries.
CREATE OR REPLACE FUNCTION fieldbook.stamps(of_entries text[]) RETURNS jsonb
LANGUAGE plpgsql STABLE AS $$
BEGIN
  RETURN (SELECT jsonb_build_object('{BY}', e.who, '{AT}', e.wall)
      || CASE e.op WHEN '{ADD}' THEN fieldbook.stamped(e.value::jsonb) ELSE '{{}}' END
    FROM fieldbook.entry e WHERE e.id = ANY (of_entries)
    ORDER BY e.clock DESC, e.id COLLATE "C" DESC LIMIT 1);
END $$;
"""

FUNCTIONS = "\n".join((_IN_ORDER, _REMOVED, _SHOWN))
