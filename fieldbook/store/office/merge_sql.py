"""What a row's entries make of it, as SQL functions of the office: merge.py's rules.

Before each entry of a row is a string of bits: those of the row's entries that it came after.
"""

from __future__ import annotations

from fieldbook.store.journal.entry import ADD, DELETED
from fieldbook.store.journal.merge import STAMPS

BY, AT = STAMPS


def listed(names: frozenset[str] | tuple[str, ...]) -> str:
    """Names as SQL texts."""
    return ", ".join(f"'{name}'" for name in sorted(names))


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
    WHERE e.op <> '{DELETED}' AND one.key NOT IN ({listed(STAMPS)})
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
    WHERE key IN ({listed(STAMPS)}));
END $$;

-- Who entered it last, and when: of these entries the latest.
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
