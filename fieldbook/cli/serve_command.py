"""The command that shows the app in a browser."""

from __future__ import annotations

import ipaddress
import sys
from pathlib import Path

import click

from fieldbook.cli.common import CommandError

_LAPTOP = "127.0.0.1"
_WARNING = (
    "Whoever has this address enters as this laptop; over a network others can read along, so use "
    "one of your own."
)


@click.command()
@click.option(
    "--address",
    default=_LAPTOP,
    show_default=True,
    metavar="ADDRESS",
    help="The address of this laptop to serve on, such as the one it has in the truck's network.",
)
@click.option(
    "--port", default=0, type=click.IntRange(0, 65535), help="The port; any free one unless named."
)
@click.option("--demo", is_flag=True, help="Show a scratch copy of invented properties.")
@click.pass_obj
def serve(path: Path, address: str, port: int, *, demo: bool) -> None:
    """Show the book in a browser: on this laptop, or on a tablet in the truck's network.

    It prints an address with a key that is good once: the first browser that opens it comes in, and
    one page at a time may write. Ctrl+C ends it.
    """
    _refuse_every_address(address)
    # Imported here: no other command needs a web server.
    import asyncio  # noqa: PLC0415

    from fieldbook.serving import web_server  # noqa: PLC0415

    command = [sys.executable, "-m", "fieldbook", "--book", str(path)]
    try:
        asyncio.run(
            web_server.serve([*command, "demo"] if demo else command, address, port, _say_where)
        )
    except OSError as why:
        raise CommandError(
            f"Nothing can be served on {address}, port {port} ({why.strerror or why}): "
            "name an address that this laptop has."
        ) from why
    except KeyboardInterrupt:
        click.echo("")


def _say_where(url: str) -> None:
    click.echo(f"{url}\n{_WARNING}\nOpen it once, in the browser to use. Ctrl+C ends it.")


def _refuse_every_address(address: str) -> None:
    """Refuse 0.0.0.0 and ::, which would serve on networks that nobody has in mind."""
    try:
        every = ipaddress.ip_address(address).is_unspecified
    except ValueError:
        every = False
    if every or not address:
        raise CommandError("Name one address of this laptop, not all of them.")
