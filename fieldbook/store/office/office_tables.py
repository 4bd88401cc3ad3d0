"""The office's tables as SQL: entries checked by the server itself, and who may add which.

An entry is refused unless its id is the hash of its content and its value is one that every laptop
takes, so that no laptop can make what another would stumble over. Nobody changes or deletes one.
"""

from __future__ import annotations

from fieldbook.store.journal.entry import ADD, FIELDS, LONGEST_TEXT
from fieldbook.store.sqlite.hashes import LARGEST_ATTACHED

LAPTOPS, READERS = "fieldbook_laptop", "fieldbook_office"
LAYOUT = 1
"""The layout of the office's tables that this fieldbook makes and speaks with."""
LONGEST_VALUE, LONGEST_NAME, MOST_DIGITS = 1_000_000, 200, 254
PART_BYTES = 1 << 18
"""An attached file travels in parts of so many bytes, so that a bad line loses little."""

_KINDS = {"seq": "bigint", "clock": "bigint", "format": "bigint", "parents": "text[]"}
COLUMNS = tuple((name, _KINDS.get(name, "text")) for name in FIELDS)
_NAMES = ("id", *FIELDS)
ENTRY_COLUMNS = ", ".join(f'"{name}"' for name in _NAMES)
"""The columns of an entry, its id first."""


def _told(name: str, kind: str) -> str:
    """A part of an entry as the hash has it: JSON as Python writes it."""
    if kind == "bigint":
        return f"a_{name}::text"
    if kind == "text":
        return f"to_json(a_{name})::text"
    each = "(SELECT string_agg(to_json(p)::text, ',' ORDER BY no) FROM unnest"
    return f"'[' || coalesce({each}(a_{name}) WITH ORDINALITY u(p, no)), '') || ']'"


_ARGUMENTS = ", ".join(f"a_{name} {kind}" for name, kind in COLUMNS)
_TOLD = " || ',' || ".join(_told(name, kind) for name, kind in COLUMNS)
_GIVEN = ", ".join(f'"{name}"' for name in FIELDS)
_DEFINED = ",\n  ".join(f'"{name}" {kind} NOT NULL' for name, kind in COLUMNS)

_WORDS = [f'"{name}"' for name, kind in COLUMNS if kind == "text" and name != "value"]
# What records/values.py calls hostile, as a regular expression of PostgreSQL.
HOSTILE = (
    r"[\u0001-\u001f\u007f-\u009f\u061c\u200e\u200f\u2028-\u202e\u2066-\u2069\ue000-\uf8ff"
    r"\U000f0000-\U000ffffd\U00100000-\U0010fffd]"
)
_PLAIN = (
    f"{' || '.join(_WORDS)} !~ '{HOSTILE}' AND "
    f"greatest({', '.join(f'length({one})' for one in _WORDS)}) <= {LONGEST_TEXT}"
)

CHECKS = f"""
CREATE OR REPLACE FUNCTION fieldbook.sealed_id({_ARGUMENTS}) RETURNS text
LANGUAGE plpgsql IMMUTABLE PARALLEL SAFE AS $$
BEGIN
  RETURN encode(sha256(convert_to('[' || {_TOLD} || ']', 'UTF8')), 'hex');
END $$;

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
  ELSIF EXISTS (SELECT FROM json_each(value::json) one
                WHERE json_typeof(one.value) IN ('object', 'array')) THEN
    RETURN false;
  ELSIF of_table = 'job' THEN
    RETURN of_job = of_row;
  END IF;
  RETURN coalesce(held -> 'job_id' = to_jsonb(of_job), false);
END $$;

CREATE OR REPLACE FUNCTION fieldbook.refuse() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% of %: what came to the office stays as it came', TG_OP, TG_TABLE_NAME
    USING ERRCODE = 'insufficient_privilege';
END $$;

CREATE OR REPLACE FUNCTION fieldbook.one_after_another() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  -- A reader by number must never pass over one that commits later with a lower number, and what is
  -- made of the entries must be made of all that were committed.
  IF current_setting('transaction_isolation') <> 'read committed' THEN
    RAISE EXCEPTION 'entries are added in READ COMMITTED only';
  END IF;
  PERFORM pg_advisory_xact_lock(7305211, 1);
  RETURN NULL;
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
  {_DEFINED},
  pushed_by text NOT NULL DEFAULT session_user,
  pushed_at timestamptz NOT NULL DEFAULT now(),
  CONSTRAINT as_it_was_sealed CHECK (id = fieldbook.sealed_id({_GIVEN})),
  CONSTRAINT a_value_every_laptop_takes CHECK (
    fieldbook.takes("table", row_id, job_id, op, value)),
  CONSTRAINT plain_parents CHECK (
    CASE coalesce(array_ndims(parents), 1)
      WHEN 1 THEN array_position(parents, NULL) IS NULL ELSE false END),
  CONSTRAINT plain_words CHECK ({_PLAIN}),
  CONSTRAINT numbers_in_range CHECK (
    least(seq, clock, format) >= 0 AND greatest(seq, clock, format) < 4611686018427387904),
  CONSTRAINT short_names CHECK (
    greatest(length(origin), length(job_id), length(row_id), length("table"), length(op))
      <= {LONGEST_NAME})
);
CREATE INDEX IF NOT EXISTS entry_by_origin ON fieldbook.entry (origin, seq);
CREATE INDEX IF NOT EXISTS entry_by_row ON fieldbook.entry (row_id, "table");
CREATE INDEX IF NOT EXISTS entry_by_job ON fieldbook.entry (job_id);
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

_KEPT = ("entry", "file", "file_part")


def guards() -> str:
    """The triggers, privileges and policies: made anew, the same each time."""
    lines = []
    for table in _KEPT:
        lines.append(
            f"CREATE OR REPLACE TRIGGER kept BEFORE UPDATE OR DELETE OR TRUNCATE "
            f"ON fieldbook.{table} FOR EACH STATEMENT EXECUTE FUNCTION fieldbook.refuse();"
        )
    lines.append(_GUARDS)
    for table, who in (("entry", "pushed_by"), ("laptop_origin", "laptop"), *_OWN_FILES):
        added = f"{who} = session_user" if table != "entry" else _OWN_ORIGIN
        lines.append(
            f"ALTER TABLE fieldbook.{table} ENABLE ROW LEVEL SECURITY;\n"
            f"DROP POLICY IF EXISTS all_read ON fieldbook.{table};\n"
            f"CREATE POLICY all_read ON fieldbook.{table} FOR SELECT USING (true);\n"
            f"DROP POLICY IF EXISTS own_added ON fieldbook.{table};\n"
            f"CREATE POLICY own_added ON fieldbook.{table} FOR INSERT WITH CHECK ({added});"
        )
    return "\n".join(lines)


_OWN_FILES = (("file", "laptop"), ("file_part", "laptop"))
_OWN_ORIGIN = """pushed_by = session_user AND (EXISTS (
  SELECT FROM fieldbook.laptop_origin o
  WHERE o.origin = entry.origin AND o.laptop = session_user) OR EXISTS (
  SELECT FROM fieldbook.also_sends o
  WHERE o.origin = entry.origin AND o.laptop = session_user))"""
_GUARDS = f"""
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
