"""The figures of the house stay within their limits, and the measure notices what is over one."""

from __future__ import annotations

import ast

import measure_house


def test_no_figure_is_over_its_limit() -> None:
    found = list(measure_house.figures())
    assert {figure.kind for figure in found} >= {*measure_house.LIMITS} - {"modules in a circle"}
    assert [str(figure) for figure in found if figure.is_over] == []


def test_a_circle_of_imports_is_found() -> None:
    edges = {"a": {"b"}, "b": {"c", "d"}, "c": {"a"}, "d": set()}
    assert measure_house.circles(edges) == [["a", "b", "c"]]
    assert measure_house.circles({**edges, "c": {"d"}}) == []


def test_parameters_and_decisions_of_a_function_are_counted() -> None:
    (function,) = ast.parse(
        "def act(self, a, /, b, *c, d, **e):\n"
        "    if a and b:\n"
        "        return [x for x in c if x]\n"
        "    return d if e else 0\n"
    ).body
    assert isinstance(function, ast.FunctionDef)
    assert measure_house.parameters(function) == 5
    # One, the if, its and, the comprehension and its if, the conditional expression.
    assert measure_house.complexity(function) == 6
