"""Rule files: errors name their line, sets inherit, editions are in force from a day on."""

from __future__ import annotations

from datetime import date

import pytest
from builders import bare_job, codes, put, row, sound_job

from fieldbook.checks.common.job_rules import cover_minimum, figure, rain_shutoff, rules_of
from fieldbook.records.base import natural_id
from fieldbook.records.loaded_job import LoadedJob
from fieldbook.records.tables.local_rules import RuleRow
from fieldbook.trade.rules.editions import (
    RuleFileError,
    RuleSet,
    generic,
    in_force,
    parse_rules,
    resolved,
)
from fieldbook.trade.rules.keys import RULE_KEYS, from_text, to_text, value_in_words

GOOD = """name = "Springfield"
effective = 2026-01-01
authority = "City of Springfield"

[rules."cover_in.mainline"]
value = 14
source = "City code 15.01.840"

[rules."allowed.no_hazard"]
value = ["RP", "PVB"]
source = "City code 15.02"
"""
TODAY = date(2026, 6, 1)


def test_a_rule_file_is_read() -> None:
    found = parse_rules(GOOD)
    assert (found.name, found.effective, found.inherits) == (
        "Springfield",
        date(2026, 1, 1),
        "generic",
    )
    assert found.rules["cover_in.mainline"].value == 14.0
    assert found.rules["allowed.no_hazard"].value == ("RP", "PVB")


@pytest.mark.parametrize(
    ("old", "new", "line", "words"),
    [
        ('name = "Springfield"', "", 1, "name is missing"),
        ("effective = 2026-01-01", 'effective = "soon"', 2, "takes a day"),
        ("authority", "autority", 3, "no part of a rule file"),
        ('"cover_in.mainline"', '"cover_in.main"', 5, "is no rule here"),
        ("value = 14", 'value = "14"', 5, "takes a number in in"),
        ("value = 14", "value = 400", 5, "goes from 0 to 72 in, not 400"),
        ('source = "City code 15.01.840"', "", 5, "needs its source"),
        ("value = 14", "value = 14\nnote = 1", 5, "nothing else"),
        ('["RP", "PVB"]', '["RP", "XYZ"]', 9, "not XYZ"),
        ('["RP", "PVB"]', '"RP"', 9, "a list of words"),
        ("value = 14", "value = ", 6, "invalid value"),
    ],
)
def test_an_error_names_its_line(old: str, new: str, line: int, words: str) -> None:
    with pytest.raises(RuleFileError) as why:
        parse_rules(GOOD.replace(old, new, 1))
    assert str(why.value).startswith(f"Line {line}: "), why.value
    assert words in str(why.value)
    assert str(why.value).endswith(".")


def test_a_set_inherits_the_rules_it_does_not_set() -> None:
    county = parse_rules(
        'name = "County"\neffective = 2025-01-01\n[rules."velocity_ft_s"]\n'
        'value = 4\nsource = "County 1"\n'
    )
    town = parse_rules(GOOD.replace("authority", 'inherits = "County"\nauthority'))
    rules = resolved("Springfield", [county, town], TODAY)
    assert rules["cover_in.mainline"].value == 14.0
    assert rules["velocity_ft_s"].set_name == "County"
    assert set(rules) == set(RULE_KEYS)


def test_a_broken_or_circular_chain_is_refused() -> None:
    town = parse_rules(GOOD.replace("authority", 'inherits = "County"\nauthority'))
    with pytest.raises(RuleFileError, match="No rule set County, which Springfield inherits"):
        resolved("Springfield", [town], TODAY)
    county = parse_rules('name = "County"\neffective = 2025-01-01\ninherits = "Springfield"\n')
    with pytest.raises(RuleFileError, match="inherits from itself"):
        resolved("Springfield", [town, county], TODAY)
    with pytest.raises(RuleFileError, match="No rule set Nowhere"):
        resolved("Nowhere", [], TODAY)


def test_the_newest_edition_in_force_is_used() -> None:
    later = parse_rules(GOOD.replace("2026-01-01", "2026-07-01").replace("= 14", "= 18"))
    sets: list[RuleSet] = [later, parse_rules(GOOD)]
    assert in_force(sets, TODAY)["Springfield"].rules["cover_in.mainline"].value == 14.0
    assert resolved("Springfield", sets, date(2026, 7, 1))["cover_in.mainline"].value == 18.0
    with pytest.raises(RuleFileError):
        resolved("Springfield", sets, date(2025, 12, 31))


def test_the_generic_set_has_every_rule_with_a_source() -> None:
    assert set(generic().rules) == set(RULE_KEYS)


@pytest.mark.parametrize("key", sorted(RULE_KEYS))
def test_a_value_kept_as_text_is_the_same(key: str) -> None:
    value = generic().rules[key].value
    assert from_text(key, to_text(value)) == value
    assert value_in_words(key, value)


@pytest.mark.parametrize("text", ["", "nonsense", "[1]", "true", "900000", '{"a": 1}'])
def test_text_that_is_not_a_value_gives_none(text: str) -> None:
    assert from_text("cover_in.mainline", text) is None
    assert from_text("no.such.rule", "1") is None


def under(job: LoadedJob, key: str, value: object, source: str = "City code 1") -> LoadedJob:
    """The job with one rule of a set called Springfield."""
    text = to_text(value)  # type: ignore[arg-type]
    row_id = natural_id(job.job.id, "rule", key)
    return put(job, "rule", row_id, key=key, value=text, source=source, set_name="Springfield")


def test_a_job_is_checked_by_its_own_set_and_names_it() -> None:
    job = under(sound_job(1), "cover_in.mainline", 20.0)
    assert cover_minimum(job, mainline=True).value == 20.0
    assert "cover too low" in codes(job)
    assert figure(job, "cover_in.mainline").source == "Springfield: City code 1"
    entered = put(job, "local_rules", "l", mainline_cover_in=10.0, cover_code="Permit 12")
    assert cover_minimum(entered, mainline=True).source == "Permit 12"


def test_the_rules_of_a_set_change_the_flags() -> None:
    job = sound_job(1)
    assert "backflow not allowed" in codes(under(job, "allowed.no_hazard", ("RP",)))
    assert "water too fast" in codes(under(job, "velocity_ft_s", 1.5))
    assert "static too high" in codes(under(job, "static_psi", 50.0))
    assert "pressure dropped" in codes(under(job, "pressure_test_drop_psi", 0.2))
    no_sensor = under(put(job, "controller", "c", rain_sensor=False), "rain_shutoff_required", True)
    assert "no rain sensor" in codes(no_sensor)
    assert rain_shutoff(job) is None


def test_a_row_that_is_no_rule_is_left_out() -> None:
    broken = row(RuleRow, "r", key="cover_in.mainline", value="deep", set_name="X")
    assert rules_of(bare_job(rules=(broken,)))["cover_in.mainline"].value == 12.0
