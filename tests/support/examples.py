"""How many examples a test tries: few in the gate, many for whoever asks for them."""

from __future__ import annotations

import os
from collections.abc import Collection

import pytest
from hypothesis import HealthCheck, settings

LOOKS_FOR_NEW = os.environ.get("FIELDBOOK_EXAMPLES") == "random"
"""Whether properties are tried on new examples. The gate tries the same ones each time."""
_TIMES_AS_MANY = 20


def examples(few: int, suppress: Collection[HealthCheck] = ()) -> settings:
    """Try a property on so many examples, or on twenty times as many when new ones are wanted."""
    count = few * _TIMES_AS_MANY if LOOKS_FOR_NEW else few
    return settings(max_examples=count, suppress_health_check=suppress)


def few_or_many(name: str, few: object, many: object) -> pytest.MarkDecorator:
    """Run a test with one value of a parameter, and when slow tests are asked for with another."""
    slow = pytest.param(many, marks=pytest.mark.slow, id="many")
    return pytest.mark.parametrize(name, [pytest.param(few, id="few"), slow])
