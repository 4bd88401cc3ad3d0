"""Laptops add entries in turns: how the hub's server gives the turn, and takes it from a sleeper.

A laptop's role may lift each time-out of its own session with SET, so none of them protects the
others. The turn is therefore a lock on a table to which laptops have no right. Only the function
below takes it, with time-outs of its own, and it ends the session that holds the turn too long.
The keeper's role must be a superuser or a member of the laptops' roles for that
(`laptop_roles.py`); otherwise the laptop that waits is refused after the last of WAITS_S.
"""

from __future__ import annotations

WAITS_S = (5, 10, 20, 40)
"""Seconds of each attempt to get the turn; who held it for a whole attempt loses its connection.

A later attempt is longer, because every attempt starts again at the end of the queue: a laptop that
gives up the turn just in time, and takes it again, can't starve the others. Adding 500 entries
takes well under a second."""
SESSIONS = 5
"""Connections that a laptop may have at a time: with more it could fill the queue, or the server.

An exchange uses one; the others are for those that the server has not noticed to be broken."""

TURN = f"""
CREATE TABLE IF NOT EXISTS fieldbook.turn ();

-- SECURITY DEFINER: a laptop has no right to the table, nor to end another laptop's session.
CREATE OR REPLACE FUNCTION fieldbook.one_after_another() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER
SET search_path = pg_catalog, pg_temp SET client_min_messages = error SET lock_timeout = '0' AS $$
DECLARE
  wait_s integer;
  holder record;
  holder_before text;
BEGIN
  -- Numbers are given before the commit. Without turns a laptop could read entry 8 while 7 is
  -- not committed yet, and would then never ask for 7. And rows must be worked out from every entry
  -- that is committed, which a transaction with an older snapshot does not see.
  IF current_setting('transaction_isolation') <> 'read committed' THEN
    RAISE EXCEPTION 'entries are added in READ COMMITTED only';
  END IF;
  FOREACH wait_s IN ARRAY '{{{",".join(map(str, WAITS_S))}}}'::integer[] LOOP
    -- By its mode, as a backup that runs has a lock of another mode on this table.
    SELECT l.virtualtransaction INTO holder_before FROM pg_locks l
      WHERE l.relation = 'fieldbook.turn'::regclass AND l.granted AND l.mode = 'ExclusiveLock'
      AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database());
    BEGIN
      PERFORM set_config('lock_timeout', wait_s || 's', true);
      LOCK TABLE fieldbook.turn IN EXCLUSIVE MODE;
      RETURN NULL;
    EXCEPTION WHEN lock_not_available THEN
      -- The same transaction from the start of the wait to its end, not only the same laptop.
      SELECT l.pid, l.virtualtransaction INTO holder FROM pg_locks l
        WHERE l.relation = 'fieldbook.turn'::regclass AND l.granted AND l.mode = 'ExclusiveLock'
        AND l.database = (SELECT oid FROM pg_database WHERE datname = current_database());
    END;
    IF holder.virtualtransaction = holder_before THEN
      BEGIN
        PERFORM pg_terminate_backend(holder.pid, 2000);
      EXCEPTION WHEN insufficient_privilege THEN
        NULL;  -- The next attempt may still succeed; the last one reports it.
      END;
    END IF;
  END LOOP;
  RAISE EXCEPTION 'another laptop is adding entries' USING ERRCODE = 'lock_not_available';
END $$;
"""
