"""The firm's list of nozzles as TOML and CSV; every figure here is invented."""

from __future__ import annotations

import pytest

from fieldbook.trade.nozzle_list import (
    EXAMPLE,
    ListedNozzle,
    NozzleListError,
    find,
    read_csv,
    read_toml,
)

CSV = """name,kind,gpm,psi,arc,radius
15H,spray,1.8,30,180,15
Corner rotor,rotor,2.5,45,90,
"""


def test_the_example_is_a_list_with_one_nozzle_that_says_it_is_an_example() -> None:
    (nozzle,) = read_toml(EXAMPLE)
    assert nozzle == ListedNozzle("example 15H", "spray", 1.8, 30.0, 180.0, 15.0)


def test_csv_and_toml_give_the_same() -> None:
    from_csv = read_csv(CSV)
    text = "\n".join(
        f'[[nozzle]]\nname = "{one.name}"\nkind = "{one.kind}"\ngpm = {one.gpm}\npsi = {one.psi}\n'
        f"arc = {one.arc_deg}\n" + (f"radius = {one.radius_ft}\n" if one.radius_ft else "")
        for one in from_csv
    )
    assert read_toml(text) == from_csv
    assert from_csv[1].radius_ft is None


@pytest.mark.parametrize("typed", ["15h", " 15 H ", "15H"])
def test_a_name_is_found_whatever_its_capitals_and_blanks(typed: str) -> None:
    found = find(read_csv(CSV), typed)
    assert found is not None
    assert found.gpm == 1.8
    assert find(read_csv(CSV), "12H") is None


@pytest.mark.parametrize(
    ("row", "why"),
    [
        ("15H,spray,0,30,180,15", "gpm must be above zero"),
        ("15H,spray,1.8,,180,15", "needs gpm, and the psi"),
        ("15H,spray,x,30,180,15", "gpm takes a number"),
        ("15H,spray,1.8,30,400,15", "at most 360"),
        ("15H,spray,nan,30,180,15", "gpm must be above zero"),
        (",spray,1.8,30,180,15", "needs a name"),
        ("15,spray,1.8,30,180,15", "needs a letter"),
        ("15H,,1.8,30,,\n15 h,,1.8,30,,", "there twice"),
    ],
)
def test_a_faulty_line_is_refused_by_its_number(row: str, why: str) -> None:
    with pytest.raises(NozzleListError, match=why) as refused:
        read_csv(f"name,kind,gpm,psi,arc,radius\n{row}\n")
    assert str(refused.value).startswith("Nozzle ")


@pytest.mark.parametrize(
    "text", ["nozzle = 3", "[other]\nx = 1", "[[nozzle", '[[nozzle]]\nmade = "x"']
)
def test_toml_that_is_no_list_is_refused(text: str) -> None:
    with pytest.raises(NozzleListError):
        read_toml(text)


def test_csv_without_its_columns_is_refused_and_an_empty_one_is_empty() -> None:
    with pytest.raises(NozzleListError, match="first line"):
        read_csv("name,flow\n15H,2\n")
    assert read_csv("") == ()
    assert read_csv("name,gpm,psi\n") == ()
