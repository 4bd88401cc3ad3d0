"""A hub for tests, in a database of its own of a real PostgreSQL server."""

from __future__ import annotations

import os
import subprocess
import tempfile
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import psycopg
import pytest
from psycopg import sql

from fieldbook.store.office.setup import add_laptop, laptop_url, make_hub

VARIABLE = "FIELDBOOK_TEST_POSTGRES"
SCRIPT = Path(__file__).resolve().parents[3] / ".ci" / "postgres"


@contextmanager
def a_server() -> Iterator[str]:
    """The administrator's address of the server in FIELDBOOK_TEST_POSTGRES, or of a new one."""
    named = os.environ.get(VARIABLE)
    if named:
        yield named
        return
    with tempfile.TemporaryDirectory(prefix="fieldbook-office-") as folder:
        Path(folder).chmod(0o755)
        place = f"{folder}/server"
        ran = subprocess.run([SCRIPT, "start", place], capture_output=True, text=True, check=False)
        if ran.returncode == 3:
            pytest.skip(f"no PostgreSQL server here: install postgresql, or set {VARIABLE}")
        assert ran.returncode == 0, ran.stderr
        try:
            yield ran.stdout.strip()
        finally:
            subprocess.run([SCRIPT, "stop", place], check=True)


class Office:
    """A hub in a database of its own, which the role `keeper` makes if one is named.

    With `made` false the database is empty.
    """

    def __init__(self, server: str, keeper: str = "", *, made: bool = True) -> None:
        self.server = server
        self.name = f"office_{self.new_name()}"
        self.keeper = keeper
        self.url = f"{server.rpartition('/')[0]}/{self.name}"
        self._run("CREATE DATABASE {} TEMPLATE template0 ENCODING 'UTF8'")
        if keeper:
            role = sql.Identifier(keeper)
            keeping = sql.SQL("CREATE ROLE {} LOGIN CREATEROLE PASSWORD 'w'").format(role)
            self._run(keeping.as_string())
            self._run(sql.SQL("ALTER DATABASE {{}} OWNER TO {}").format(role).as_string())
            self.url = laptop_url(self.url, keeper, "w")
        if made:
            make_hub(self.url)

    @staticmethod
    def new_name() -> str:
        """A name that no other test has."""
        return uuid.uuid4().hex[:12]

    def laptop(self, name: str = "") -> str:
        """Add a laptop; returns its address."""
        name = name or f"truck-{self.new_name()}"
        return laptop_url(self.url, name, add_laptop(self.url, name))

    def ask(self, query: str, *values: object, url: str = "") -> list[tuple[object, ...]]:
        """The rows of a query, run by the administrator or as the user in `url`."""
        with psycopg.connect(url or self.url, autocommit=True) as connection:
            found = connection.execute(query.encode(), values or None)
            return found.fetchall() if found.description is not None else []

    def drop(self) -> None:
        """Drop the database."""
        self._run("DROP DATABASE {} WITH (FORCE)")

    def _run(self, statement: str) -> None:
        with psycopg.connect(self.server, autocommit=True) as connection:
            connection.execute(sql.SQL(statement).format(sql.Identifier(self.name)))
