"""The hub's table of seals, which prove who made an entry, and of the keys it distrusts.

The server can't check a signature: each laptop does, for every seal it reads. A laptop adds seals
of its own origins alone, and changes none. What a seal is: `store/seals/seal.py`.
"""

from __future__ import annotations

from fieldbook.store.office.office_tables import LAPTOPS, LONGEST_NAME, refuse_changes, row_security

COLUMNS = ("id", "origin", "job_id", "upto", "ids", "key", "name", "at", "signature")
_LONGEST_IDS = 22_000
"""Base64 of the most ids that a seal may have (`seal.MOST_IDS`), and a little more."""

# Unique with the origin: nobody can take the id of another laptop's seal before it comes.
TABLES = f"""
CREATE TABLE IF NOT EXISTS fieldbook.seal (
  no bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  id text NOT NULL CHECK (id ~ '^[0-9a-f]{{64}}$'),
  origin text NOT NULL CHECK (length(origin) <= {LONGEST_NAME}),
  job_id text NOT NULL CHECK (length(job_id) <= {LONGEST_NAME}),
  upto bigint NOT NULL CHECK (upto > 0),
  ids text NOT NULL CHECK (length(ids) <= {_LONGEST_IDS}),
  key text NOT NULL CHECK (key ~ '^[0-9a-f]{{64}}$'),
  name text NOT NULL CHECK (length(name) <= {LONGEST_NAME}),
  at text NOT NULL CHECK (length(at) <= {LONGEST_NAME}),
  signature text NOT NULL CHECK (signature ~ '^[0-9a-f]{{128}}$'),
  sent_by text NOT NULL DEFAULT session_user,
  sent_at timestamptz NOT NULL DEFAULT now(),
  UNIQUE (origin, id)
);
CREATE TABLE IF NOT EXISTS fieldbook.distrusted_key (
  key text PRIMARY KEY,
  laptop text NOT NULL,
  since timestamptz NOT NULL DEFAULT now()
);

CREATE OR REPLACE FUNCTION fieldbook.count_seal() RETURNS trigger
LANGUAGE plpgsql SECURITY DEFINER SET search_path = pg_catalog, pg_temp AS $$
BEGIN
  PERFORM fieldbook.count_sent(1000 + length(NEW.ids));
  RETURN NULL;
END $$;
"""

_MAY_ADD = """sent_by = session_user AND (EXISTS (
  SELECT FROM fieldbook.laptop_origin o
  WHERE o.origin = seal.origin AND o.laptop = session_user) OR EXISTS (
  SELECT FROM fieldbook.also_sends o
  WHERE o.origin = seal.origin AND o.laptop = session_user))"""

TRIGGERS_AND_RIGHTS = f"""
CREATE OR REPLACE TRIGGER one_after_another BEFORE INSERT ON fieldbook.seal
  FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.one_after_another();
CREATE OR REPLACE TRIGGER at_the_door AFTER INSERT ON fieldbook.seal
  FOR EACH ROW EXECUTE FUNCTION fieldbook.count_seal();
{refuse_changes("seal")}
{row_security("seal", _MAY_ADD)}
REVOKE ALL ON fieldbook.seal, fieldbook.distrusted_key FROM PUBLIC, {LAPTOPS};
REVOKE ALL ON FUNCTION fieldbook.count_seal FROM PUBLIC;
GRANT SELECT ON fieldbook.seal, fieldbook.distrusted_key TO {LAPTOPS};
GRANT INSERT ({", ".join(COLUMNS)}) ON fieldbook.seal TO {LAPTOPS};
"""
