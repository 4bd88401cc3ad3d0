"""The commands for the keeper of the office's database: make the hub, let laptops in and out."""

from __future__ import annotations

import json

import click

from fieldbook.cli.common import plain, progress_bar, refusals

# Each command imports the database driver itself: no other command needs it.
# ruff: noqa: PLC0415

_HUB_KEEPS = """Entries in the hub are never changed or deleted, not even by its owner.
Run this again after an update of fieldbook; it adds only what is new."""
_NEXT = """Next:
- For each laptop: fieldbook hub add-laptop URL NAME. It prints the laptop's address once.
- Over a network: let PostgreSQL speak TLS (ssl = on, and hostssl lines in pg_hba.conf), and add
  ?sslmode=verify-full&sslrootcert=FILE to each laptop's address, with the office's certificate.
- For each reader at the office: CREATE ROLE anna LOGIN PASSWORD '...' IN ROLE fieldbook_office;
  the views are in the schema office: SELECT * FROM office.job.
- What the office asks of flags and dates: fieldbook hub ask URL lists the questions. Laptops work
  the answers out as they exchange; each night, and after this command, fieldbook hub refresh URL
  does it for the properties whose entries are newer or whose day has passed.
- Back it up each night: pg_dumpall, or pg_basebackup for the whole server."""

_OPEN = """Laptops may connect to other databases of this server too: {}.
If the server is the hub's alone, fieldbook hub init --alone URL closes them. Otherwise add the line
host all +fieldbook_laptop all reject to pg_hba.conf, after the hub's own line."""


@click.group()
def hub() -> None:
    """Keep the office's PostgreSQL, where laptops meet. URL is its administrator's address.

    The database is one of its own, PostgreSQL 14 or newer; its address is
    postgresql://NAME@HOST/DATABASE, the password in PGPASSWORD or ~/.pgpass rather than in it.
    A laptop is connected for seconds, so fifty of them need nothing special: the usual
    max_connections of 100 is enough.

    TLS: over a network set ssl = on in postgresql.conf, give the server a certificate, and have
    only hostssl lines with scram-sha-256 in pg_hba.conf. Each laptop's address then ends in
    ?sslmode=verify-full&sslrootcert=FILE. With anything less somebody between can pretend to be the
    office; the exchange warns of it.

    Backup: run pg_dumpall, or pg_basebackup, each night and keep it on another machine. If the
    database is lost, restore the newest backup and run fieldbook hub init: the laptops that were
    let in may connect again. A pg_dump of the database alone has no roles: run add-laptop for each
    laptop. In its next exchange each laptop sends again what the backup lacks of its entries.

    A stolen laptop: remove-laptop ends its connections, shuts it out and distrusts its key: the
    others refuse what it signs from then on, on sticks too. What it entered until then stays. Until
    then it could read all that the hub has, and its book still holds what it received: every
    property, customer and attached file. So encrypt the disk of each laptop. It could add entries
    of the origins it may send, and change or delete none. SELECT * FROM office.history
    WHERE laptop = 'truck-2' ORDER BY pushed_at lists them; a wrong one is put right by a new entry.
    It could also put false rows and flags in the views, of any property: fieldbook hub refresh URL
    makes those that it made last anew, and with --all everything.

    What the hub proves: that an entry is unaltered, and which laptop sent it. Its signature proves
    which laptop's key made it. Neither proves which person typed it, nor that the clock was right.
    fieldbook laptops shows the words of each key: compare them once, by voice.

    Rows, flags and dates: laptops and fieldbook hub refresh work them out of the entries, and the
    views of the schema office show them. up_to_date is false where entries are newer, or where the
    day until which flags held is over: run fieldbook hub refresh each night, before the questions
    of fieldbook hub ask. office.board says of each property who made its rows, and when. Flags on
    attached files are not among them: the hub does not look at files. These rows prove nothing;
    the entries do.

    Limits: a laptop has five connections, and sends 2,000 MB a day; UPDATE fieldbook.laptop SET
    daily_mb = 5000 WHERE name = 'truck-2' allows more. A laptop that keeps the others from adding
    entries loses its connection as soon as one of them has waited for 5 s. A laptop's role can lift
    PostgreSQL's own time-outs and can keep the processor busy: remove-laptop ends that too.
    Run fieldbook hub init as a superuser: nobody else can take from the laptops the right to large
    objects, advisory locks, messages in the server's log and, before PostgreSQL 15, own tables.
    """


@hub.command()
@click.argument("url")
@click.option(
    "--alone", is_flag=True, help="The server is the hub's alone: close its other databases."
)
def init(url: str, alone: bool) -> None:
    """Make the hub in the database at URL, or complete it, in one transaction."""
    from fieldbook.store.office.setup import make_hub

    with refusals():
        still_open = make_hub(url, alone=alone)
    click.echo(f"The hub is ready.\n{_HUB_KEEPS}\n{_NEXT}")
    # A server often has more databases than the hub, and every role may connect to a new one.
    if still_open:
        click.echo(_OPEN.format(plain(", ".join(still_open))))


@hub.command()
@click.argument("url")
@click.option("--all", "everything", is_flag=True, help="Also what is up to date already.")
def refresh(url: str, everything: bool) -> None:
    """Work out anew, from its entries, what the hub shows of each property.

    That is its rows, flags, dates and what waits, of every property whose entries are newer than
    what was worked out, or whose flags held until a day that has passed. --all replaces whatever a
    laptop worked out wrongly, or one with an older fieldbook.
    """
    from fieldbook.actions.exchange.office import refresh_hub

    with refusals(), progress_bar("Working out") as progress:
        done = refresh_hub(url, progress, everything=everything)
    said = f"Worked out anew: {done.made}."
    if done.left:
        said += f" Laptops changed {done.left} at the same time: run it again."
    click.echo(said)


@hub.command()
@click.argument("url")
@click.argument("question", required=False)
@click.option("--json", "as_json", is_flag=True, help="Print JSON.")
@click.option("--sql", is_flag=True, help="Print the question's SQL text instead of asking.")
def ask(url: str, question: str | None, as_json: bool, sql: bool) -> None:
    """Ask the hub a QUESTION; without one, list all of them. Nothing is changed.

    URL may be that of any reader at the office. Where up_to_date says no, entries are newer than
    the answer, or its day is over: fieldbook hub refresh makes it true again.
    """
    from fieldbook.cli.board_output import as_plain, print_json, print_records
    from fieldbook.store.office.ask import ask as answer_of
    from fieldbook.store.office.ask import questions, statement

    if question is None:
        listed = questions()
        width = max(map(len, listed))
        lines = [f"{name:{width}}  {words}" for name, words in listed.items()]
        click.echo("\n".join(lines) if not as_json else json.dumps(listed, indent=2))
        return
    with refusals():
        if sql:
            click.echo(statement(question), nl=False)
            return
        found = answer_of(url, question)
    if as_json:
        print_json(
            [dict(zip(found.columns, map(as_plain, row), strict=True)) for row in found.rows]
        )
    else:
        print_records(found.columns, found.rows)


@hub.command(name="add-laptop")
@click.argument("url")
@click.argument("name")
def add_laptop(url: str, name: str) -> None:
    """Let a laptop in as NAME and print its address; for one that is in, a new password."""
    from fieldbook.store.office.connection import tls_warning
    from fieldbook.store.office.setup import add_laptop as let_in
    from fieldbook.store.office.setup import laptop_url

    with refusals():
        address = laptop_url(url, name, let_in(url, name))
    click.echo(
        f"The laptop {plain(name)} is let in. Its address, which is shown only now:\n{address}\n"
        "On the laptop put it into FIELDBOOK_OFFICE, where only its owner reads it."
    )
    warning = tls_warning(url)
    if warning:
        click.echo(warning)


@hub.command(name="remove-laptop")
@click.argument("url")
@click.argument("name")
def remove_laptop(url: str, name: str) -> None:
    """Let the laptop NAME in no more; what it entered stays. add-laptop lets it in again."""
    from fieldbook.store.office.setup import remove_laptop as shut_out

    with refusals():
        shut_out(url, name)
    click.echo(
        f"The laptop {plain(name)} is let in no more; what it entered stays. What it worked out "
        "for the office counts as not up to date: fieldbook hub refresh URL makes it anew."
    )


@hub.command(name="let-send")
@click.argument("url")
@click.argument("origin")
@click.argument("name")
def let_send(url: str, origin: str, name: str) -> None:
    """Let the laptop NAME also send what a book wrote under ORIGIN, as after a copied disk.

    The exchange of that laptop says when it is needed, and which origin it is.
    """
    from fieldbook.store.office.setup import let_send as allow_sending

    with refusals():
        allow_sending(url, origin, name)
    click.echo(f"The laptop {plain(name)} may send the entries of {plain(origin)} too.")
