"""A solved network document as tables for a person to read: the supply, the heads, the links."""

from __future__ import annotations

from collections.abc import Mapping, Sequence
from typing import Any

_Row = Sequence[str]


def solved_lines(answer: Mapping[str, Any]) -> list[str]:
    """The lines of an answer of `fieldbook.water.solve_case`; pressures in psi, flows in gpm."""
    return [
        *([] if answer["converged"] else [_not_converged(answer)]),
        _supply(answer),
        "",
        *_table(("head", "node", "psi", "gpm", "state"), [_head(head) for head in answer["heads"]]),
        "",
        *_table(
            ("link", "gpm", "psi lost", "ft/s", "state"), [_link(link) for link in answer["links"]]
        ),
        "",
        *_table(
            ("node", "psi"),
            [(node["name"], f"{node['pressure_psi']:.2f}") for node in answer["nodes"]],
        ),
    ]


def _not_converged(answer: Mapping[str, Any]) -> str:
    off = f"{answer['residual_psi']:.2g}"
    return f"NOT SOLVED: do not use these figures; their pressures are off by {off} psi or more."


def _supply(answer: Mapping[str, Any]) -> str:
    given = f"The supply gives {answer['supply_gpm']:.3f} gpm at {answer['source_psi']:.2f} psi"
    return f"{given}, beyond its pump's curve." if answer["outside_pump_curve"] else f"{given}."


def _head(head: Mapping[str, Any]) -> _Row:
    state = head["state"] + (", outside its range" if head["outside_range"] else "")
    psi, gpm = f"{head['pressure_psi']:.2f}", f"{head['flow_gpm']:.3f}"
    return head["name"], head["node"], psi, gpm, state


def _link(link: Mapping[str, Any]) -> _Row:
    state = link["state"] + (", outside its table" if link["outside_table"] else "")
    ft_s = "" if link["velocity_ft_s"] is None else f"{link['velocity_ft_s']:.2f}"
    return link["name"], f"{link['flow_gpm']:.3f}", f"{link['loss_psi']:.2f}", ft_s, state


def _table(heading: _Row, rows: list[_Row]) -> list[str]:
    """Rows in columns as wide as their widest cell; columns of figures stand to the right."""
    widths = [max(map(len, column)) for column in zip(heading, *rows, strict=True)]
    figures = {"psi", "gpm", "psi lost", "ft/s"}
    return [
        "  ".join(
            cell.rjust(width) if title in figures else cell.ljust(width)
            for title, cell, width in zip(heading, row, widths, strict=True)
        ).rstrip()
        for row in (heading, *rows)
    ]
