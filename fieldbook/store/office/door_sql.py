"""What the hub refuses at the door from a laptop, beyond what no laptop could read.

An entry that does not follow the one before it, one that is too large, and more bytes a day than
the keeper allows. The keeper's own role may add whatever is well formed, as after a restore.
"""

from __future__ import annotations

MOST_PARENTS, LONGEST_PARENTS = 1_000, 100_000
"""How many parents an entry may have, and how many characters they have together."""
DAILY_MB = 2_000
"""What a laptop may send a day unless its keeper says otherwise: entries, and some 400 photos."""
_ENTRY_OVERHEAD = 1_000

DOOR = f"""
ALTER TABLE fieldbook.laptop
  ADD COLUMN IF NOT EXISTS daily_mb integer NOT NULL DEFAULT {DAILY_MB} CHECK (daily_mb >= 0);
CREATE TABLE IF NOT EXISTS fieldbook.sent_today (
  laptop text PRIMARY KEY,
  day date NOT NULL,
  bytes bigint NOT NULL
);
ALTER TABLE fieldbook.sent_today ADD COLUMN IF NOT EXISTS heard timestamptz;

-- SECURITY DEFINER: a laptop must not change what it is counted to have sent. In UTC, because a
-- role may set its session's time zone.
CREATE OR REPLACE FUNCTION fieldbook.count_sent(more bigint) RETURNS void
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  today date := (clock_timestamp() AT TIME ZONE 'UTC')::date;
  allowed integer;
  sent bigint;
BEGIN
  SELECT l.daily_mb INTO allowed FROM fieldbook.laptop l WHERE l.name = session_user;
  IF NOT FOUND THEN
    RETURN;
  END IF;
  INSERT INTO fieldbook.sent_today AS s (laptop, day, bytes, heard)
    VALUES (session_user, today, more, now())
    ON CONFLICT (laptop) DO UPDATE SET day = excluded.day, heard = excluded.heard,
      bytes = excluded.bytes + CASE WHEN s.day = excluded.day THEN s.bytes ELSE 0 END
    RETURNING s.bytes INTO sent;
  IF sent > allowed * 1000000::bigint THEN
    RAISE EXCEPTION '% MB a day', allowed USING ERRCODE = 'configuration_limit_exceeded';
  END IF;
END $$;

CREATE OR REPLACE FUNCTION fieldbook.check_entries() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
DECLARE
  link record;
  before record;
  after record;
  wrong bigint;
  more bigint;
BEGIN
  IF NOT EXISTS (SELECT FROM fieldbook.laptop l WHERE l.name = session_user) THEN
    RETURN NULL;
  END IF;
  -- The rule of journal/chain.py. What is before may be missing: the hub can't hold every entry.
  -- It is asked of the entry that came and of the one after it, if that came first. By
  -- look-ups: a join with the batch makes the planner read the whole origin each time.
  FOR link IN SELECT c.origin, c.seq, c.id, c.prev FROM came c LOOP
    SELECT count(*) AS held, bool_or(b.id = link.prev) AS follows INTO before
      FROM fieldbook.entry b WHERE b.origin = link.origin AND b.seq = link.seq - 1;
    IF before.held > 0 AND NOT before.follows THEN
      wrong := link.seq;
    END IF;
    FOR after IN SELECT a.prev FROM fieldbook.entry a
      WHERE a.origin = link.origin AND a.seq = link.seq + 1 AND a.prev <> link.id
    LOOP
      -- It may follow the other side of a fork.
      IF NOT EXISTS (SELECT FROM fieldbook.entry b
          WHERE b.origin = link.origin AND b.seq = link.seq AND b.id = after.prev) THEN
        wrong := link.seq + 1;
      END IF;
    END LOOP;
    IF wrong IS NOT NULL THEN
      RAISE EXCEPTION 'entry % does not follow the one before it: run fieldbook verify', wrong
        USING ERRCODE = 'check_violation';
    END IF;
  END LOOP;
  SELECT c.seq INTO wrong FROM came c
    WHERE cardinality(c.parents) > {MOST_PARENTS}
      OR length(array_to_string(c.parents, '')) > {LONGEST_PARENTS}
    LIMIT 1;
  IF FOUND THEN
    RAISE EXCEPTION 'entry % has too many parents', wrong USING ERRCODE = 'check_violation';
  END IF;
  SELECT sum({_ENTRY_OVERHEAD} + octet_length(c.value)
      + octet_length(array_to_string(c.parents, ''))) INTO more FROM came c;
  PERFORM fieldbook.count_sent(coalesce(more, 0));
  RETURN NULL;
END $$;

CREATE OR REPLACE FUNCTION fieldbook.check_part() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  PERFORM fieldbook.count_sent(length(NEW.content));
  RETURN NULL;
END $$;

-- Triggers of a kind run in the order of their names: this one before the rows are worked out.
CREATE OR REPLACE TRIGGER at_the_door AFTER INSERT ON fieldbook.entry
  REFERENCING NEW TABLE AS came FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.check_entries();
CREATE OR REPLACE TRIGGER at_the_door AFTER INSERT ON fieldbook.file_part
  FOR EACH ROW EXECUTE FUNCTION fieldbook.check_part();
"""

NO_SIDE_DOORS = """
-- Functions that every role may call: large objects would fill the disk past the quota, advisory
-- locks the server's table of locks, messages its log. Only a superuser can close them. Before
-- PostgreSQL 15 every role may also make tables of its own in the schema public.
DO $$
DECLARE
  closed regprocedure;
BEGIN
  FOR closed IN
    SELECT p.oid::regprocedure FROM pg_proc p
    WHERE p.pronamespace = 'pg_catalog'::regnamespace
      AND (p.proname ~ '^(lo_|pg_(try_)?advisory_)'
        OR p.proname IN ('loread', 'lowrite', 'pg_logical_emit_message'))
  LOOP
    EXECUTE format('REVOKE EXECUTE ON FUNCTION %s FROM PUBLIC', closed);
  END LOOP;
  IF to_regnamespace('public') IS NOT NULL THEN
    REVOKE CREATE ON SCHEMA public FROM PUBLIC;
  END IF;
END $$
"""
