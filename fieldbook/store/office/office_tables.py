"""The tables of the hub: the server itself checks each entry, and who may add which.

An entry is refused unless its id is the hash of its content and every laptop would accept its
value (`entry.from_dict`), so that no laptop can send what others fail on. Nobody can change or
delete an entry, not even the owner of the tables. The names of tables, functions, arguments and
constraints stay as they are: an update of fieldbook replaces what exists by name.
"""

from __future__ import annotations

from fieldbook.store.attached import LARGEST_ATTACHED
from fieldbook.store.journal.entry import ADD, FIELDS, LONGEST_TEXT

LAPTOPS, READERS = "fieldbook_laptop", "fieldbook_office"
LAYOUT = 1
"""The version of the hub's tables that this fieldbook makes and works with."""
LONGEST_VALUE, LONGEST_NAME, MOST_DIGITS = 1_000_000, 200, 254
PART_BYTES = 1 << 18
"""Bytes in a part of an attached file: small, so that a connection that breaks loses little."""

_KINDS = {"seq": "bigint", "clock": "bigint", "format": "bigint", "parents": "text[]"}
"""The types of the columns that are not text."""
COLUMNS = tuple((name, _KINDS.get(name, "text")) for name in FIELDS)
_NAMES = ("id", *FIELDS)
ENTRY_COLUMNS = ", ".join(f'"{name}"' for name in _NAMES)
"""The columns of an entry, its id first."""


def _as_json(name: str, kind: str) -> str:
    """A field as it stands in the hashed list. to_json escapes texts exactly as Python does."""
    if kind == "bigint":
        return f"a_{name}::text"
    if kind == "text":
        return f"to_json(a_{name})::text"
    each = "(SELECT string_agg(to_json(p)::text, ',' ORDER BY no) FROM unnest"
    return f"'[' || coalesce({each}(a_{name}) WITH ORDINALITY u(p, no)), '') || ']'"


_HASH_ARGUMENTS = ", ".join(f"a_{name} {kind}" for name, kind in COLUMNS)
_CONTENT = " || ',' || ".join(_as_json(name, kind) for name, kind in COLUMNS)
_QUOTED_FIELDS = ", ".join(f'"{name}"' for name in FIELDS)
_COLUMN_DEFINITIONS = ",\n  ".join(f'"{name}" {kind} NOT NULL' for name, kind in COLUMNS)

_TEXTS = [f'"{name}"' for name, kind in COLUMNS if kind == "text" and name != "value"]
# The characters that records/values.py drops as hostile, as a regular expression of PostgreSQL.
HOSTILE = (
    r"[\u0001-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ue000-\uf8ff"
    r"\U000f0000-\U000ffffd\U00100000-\U0010fffd]"
)
_NO_HOSTILE_TEXT = (
    f"{' || '.join(_TEXTS)} !~ '{HOSTILE}' AND "
    f"greatest({', '.join(f'length({text})' for text in _TEXTS)}) <= {LONGEST_TEXT}"
)

CHECKS = f"""
-- The id of an entry: what entry.make_entry computes.
CREATE OR REPLACE FUNCTION fieldbook.sealed_id({_HASH_ARGUMENTS}) RETURNS text
LANGUAGE plpgsql IMMUTABLE PARALLEL SAFE AS $$
BEGIN
  RETURN encode(sha256(convert_to('[' || {_CONTENT} || ']', 'UTF8')), 'hex');
END $$;

-- Whether every laptop accepts a value. json_each sees every key. jsonb keeps the last of equal
-- keys, and would pass a list under the first that is too deep for a laptop to read.
CREATE OR REPLACE FUNCTION fieldbook.takes(of_table text, of_row text, of_job text, op text,
  value text) RETURNS boolean
LANGUAGE plpgsql IMMUTABLE PARALLEL SAFE AS $$
DECLARE
  held jsonb := value::jsonb;
BEGIN
  IF value ~ '[0-9]{{{MOST_DIGITS + 1}}}' OR length(value) > {LONGEST_VALUE} THEN
    RETURN false;
  ELSIF op <> '{ADD}' THEN
    RETURN jsonb_typeof(held) NOT IN ('object', 'array')
      AND (of_table <> 'job' OR of_job = of_row);
  ELSIF jsonb_typeof(held) <> 'object' THEN
    RETURN false;
  ELSIF EXISTS (SELECT FROM json_each(value::json) cell
                WHERE json_typeof(cell.value) IN ('object', 'array')) THEN
    RETURN false;
  ELSIF of_table = 'job' THEN
    RETURN of_job = of_row;
  END IF;
  RETURN coalesce(held -> 'job_id' = to_jsonb(of_job), false);
END $$;

CREATE OR REPLACE FUNCTION fieldbook.refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% of %: what a laptop sent is never changed or deleted', TG_OP, TG_TABLE_NAME
    USING ERRCODE = 'insufficient_privilege';
END $$;
"""

TABLES = f"""
CREATE TABLE IF NOT EXISTS fieldbook.hub (
  one boolean PRIMARY KEY DEFAULT true CHECK (one),
  id text NOT NULL DEFAULT gen_random_uuid()::text,
  layout integer NOT NULL
);
CREATE TABLE IF NOT EXISTS fieldbook.laptop (
  name text PRIMARY KEY,
  added timestamptz NOT NULL DEFAULT now(),
  removed timestamptz
);
CREATE TABLE IF NOT EXISTS fieldbook.laptop_origin (
  origin text PRIMARY KEY CHECK (length(origin) <= {LONGEST_NAME}),
  laptop text NOT NULL DEFAULT session_user,
  since timestamptz NOT NULL DEFAULT now()
);
CREATE TABLE IF NOT EXISTS fieldbook.also_sends (
  origin text NOT NULL REFERENCES fieldbook.laptop_origin,
  laptop text NOT NULL REFERENCES fieldbook.laptop,
  PRIMARY KEY (origin, laptop)
);
CREATE TABLE IF NOT EXISTS fieldbook.entry (
  n bigint GENERATED ALWAYS AS IDENTITY PRIMARY KEY,
  id text NOT NULL UNIQUE,
  {_COLUMN_DEFINITIONS},
  pushed_by text NOT NULL DEFAULT session_user,
  pushed_at timestamptz NOT NULL DEFAULT now(),
  CONSTRAINT as_it_was_sealed CHECK (id = fieldbook.sealed_id({_QUOTED_FIELDS})),
  CONSTRAINT a_value_every_laptop_takes CHECK (
    fieldbook.takes("table", row_id, job_id, op, value)),
  CONSTRAINT plain_parents CHECK (
    CASE coalesce(array_ndims(parents), 1)
      WHEN 1 THEN array_position(parents, NULL) IS NULL ELSE false END),
  CONSTRAINT plain_words CHECK ({_NO_HOSTILE_TEXT}),
  CONSTRAINT numbers_in_range CHECK (
    least(seq, clock, format) >= 0 AND greatest(seq, clock, format) < 4611686018427387904),
  CONSTRAINT short_names CHECK (
    greatest(length(origin), length(job_id), length(row_id), length("table"), length(op))
      <= {LONGEST_NAME})
);
CREATE INDEX IF NOT EXISTS entry_by_origin ON fieldbook.entry (origin, seq);
CREATE INDEX IF NOT EXISTS entry_by_row ON fieldbook.entry (row_id, "table");
CREATE INDEX IF NOT EXISTS entry_of_job ON fieldbook.entry (job_id, n);
DROP INDEX IF EXISTS fieldbook.entry_by_job;
CREATE TABLE IF NOT EXISTS fieldbook.file_part (
  sha256 text NOT NULL CHECK (sha256 ~ '^[0-9a-f]{{64}}$'),
  laptop text NOT NULL DEFAULT session_user,
  no integer NOT NULL CHECK (no BETWEEN 0 AND {LARGEST_ATTACHED // PART_BYTES}),
  content bytea NOT NULL CHECK (length(content) BETWEEN 1 AND {PART_BYTES}),
  PRIMARY KEY (sha256, laptop, no)
);
ALTER TABLE fieldbook.file_part ALTER COLUMN content SET STORAGE EXTERNAL;
CREATE TABLE IF NOT EXISTS fieldbook.file (
  sha256 text PRIMARY KEY,
  laptop text NOT NULL DEFAULT session_user,
  size bigint NOT NULL CHECK (size BETWEEN 0 AND {LARGEST_ATTACHED}),
  since timestamptz NOT NULL DEFAULT now()
);

CREATE OR REPLACE FUNCTION fieldbook.whole_file() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  content bytea;
BEGIN
  SELECT coalesce(string_agg(p.content, ''::bytea ORDER BY p.no), ''::bytea) INTO content
    FROM fieldbook.file_part p WHERE p.sha256 = NEW.sha256 AND p.laptop = NEW.laptop;
  IF length(content) <> NEW.size OR encode(sha256(content), 'hex') <> NEW.sha256 THEN
    RAISE EXCEPTION 'the parts of file % are not that file', NEW.sha256
      USING ERRCODE = 'check_violation';
  END IF;
  RETURN NEW;
END $$;
"""

_NEVER_CHANGED = ("entry", "file", "file_part")
# A laptop sends the entries of its own origins, and of those that it was allowed to send too.
_MAY_SEND = """pushed_by = session_user AND (EXISTS (
  SELECT FROM fieldbook.laptop_origin o
  WHERE o.origin = entry.origin AND o.laptop = session_user) OR EXISTS (
  SELECT FROM fieldbook.also_sends o
  WHERE o.origin = entry.origin AND o.laptop = session_user))"""
_MAY_ADD = {
    "entry": _MAY_SEND,
    "laptop_origin": "laptop = session_user",
    "file": "laptop = session_user",
    "file_part": "laptop = session_user",
}
"""By table, which rows a laptop may add; it may read all of them."""


def refuse_changes(table: str) -> str:
    """The trigger that refuses every change of a table but new rows."""
    return (
        f"CREATE OR REPLACE TRIGGER kept BEFORE UPDATE OR DELETE OR TRUNCATE "
        f"ON fieldbook.{table} FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.refuse();"
    )


def row_security(table: str, may_add: str) -> str:
    """Row-level security of a table: all may be read, and those added that `may_add` allows."""
    return (
        f"ALTER TABLE fieldbook.{table} ENABLE ROW LEVEL SECURITY;\n"
        f"DROP POLICY IF EXISTS all_read ON fieldbook.{table};\n"
        f"CREATE POLICY all_read ON fieldbook.{table} FOR SELECT USING (true);\n"
        f"DROP POLICY IF EXISTS own_added ON fieldbook.{table};\n"
        f"CREATE POLICY own_added ON fieldbook.{table} FOR INSERT WITH CHECK ({may_add});"
    )


_TRIGGERS_AND_RIGHTS = f"""
CREATE OR REPLACE TRIGGER one_after_another BEFORE INSERT ON fieldbook.entry
  FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.one_after_another();
CREATE OR REPLACE TRIGGER whole_file BEFORE INSERT ON fieldbook.file
  FOR EACH ROW EXECUTE FUNCTION fieldbook.whole_file();
REVOKE ALL ON SCHEMA fieldbook FROM PUBLIC;
REVOKE ALL ON ALL TABLES IN SCHEMA fieldbook FROM PUBLIC, {LAPTOPS}, {READERS};
REVOKE ALL ON ALL FUNCTIONS IN SCHEMA fieldbook FROM PUBLIC, {LAPTOPS}, {READERS};
GRANT USAGE ON SCHEMA fieldbook TO {LAPTOPS};
GRANT SELECT ON fieldbook.hub, fieldbook.entry, fieldbook.laptop_origin, fieldbook.also_sends,
  fieldbook.file, fieldbook.file_part TO {LAPTOPS};
GRANT INSERT ({ENTRY_COLUMNS}) ON fieldbook.entry TO {LAPTOPS};
GRANT INSERT (origin) ON fieldbook.laptop_origin TO {LAPTOPS};
GRANT INSERT (sha256, size) ON fieldbook.file TO {LAPTOPS};
GRANT INSERT (sha256, no, content) ON fieldbook.file_part TO {LAPTOPS};
GRANT EXECUTE ON FUNCTION fieldbook.sealed_id, fieldbook.takes TO {LAPTOPS};
"""

GUARDS = "\n".join(
    (
        *(refuse_changes(table) for table in _NEVER_CHANGED),
        _TRIGGERS_AND_RIGHTS,
        *(row_security(table, may_add) for table, may_add in _MAY_ADD.items()),
    )
)
"""The triggers, rights and row-level security of the tables; run again they change nothing."""
