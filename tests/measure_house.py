"""Print the figures of the house, and exit with 1 if one is over its limit.

Run it: python tests/measure_house.py

It prints the largest figure of each kind: files in a folder, lines of a file, lines, parameters and
complexity of a function, modules that import each other in a circle (also under TYPE_CHECKING), and
files of the same name. It also prints how many lines and comments the package has, and its files
of few lines; those have no limit. tests/unit/test_house.py holds the figures to their limits.
"""

from __future__ import annotations

import ast
import io
import sys
import tokenize
from collections import defaultdict
from collections.abc import Iterator
from dataclasses import dataclass
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "fieldbook"
TESTS = Path(__file__).resolve().parent
FEW_LINES = 40

LIMITS = {
    "files in a folder": 20,
    "lines of a file": 400,
    "lines of a function": 50,
    "parameters of a function": 6,
    "complexity of a function": 15,
    "files of one name": 1,
    "modules in a circle": 1,
}

_BRANCHING = (ast.If, ast.For, ast.AsyncFor, ast.While, ast.ExceptHandler, ast.IfExp, ast.Assert)
_Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Figure:
    """One figure: its kind, what it is measured on, and its value."""

    kind: str
    of: str
    value: int

    @property
    def is_over(self) -> bool:
        """Whether it is over the limit of its kind."""
        return self.value > LIMITS[self.kind]

    def __str__(self) -> str:
        """The figure beside its limit."""
        return f"{self.kind:26} {self.value:5} (at most {LIMITS[self.kind]}) {self.of}"


def sources(top: Path) -> list[Path]:
    """The Python files below a folder."""
    return sorted(path for path in top.rglob("*.py") if "__pycache__" not in path.parts)


def lines_of(path: Path) -> int:
    """How many lines a file has."""
    return len(path.read_text("utf-8").splitlines())


def comments_of(path: Path) -> int:
    """How many comments a file has."""
    tokens = tokenize.generate_tokens(io.StringIO(path.read_text("utf-8")).readline)
    return sum(1 for token in tokens if token.type == tokenize.COMMENT)


def parameters(function: _Function) -> int:
    """How many parameters a function has, without self and cls."""
    taken = function.args
    named = [*taken.posonlyargs, *taken.args, *taken.kwonlyargs]
    named += [rest for rest in (taken.vararg, taken.kwarg) if rest is not None]
    return sum(parameter.arg not in ("self", "cls") for parameter in named)


def complexity(function: _Function) -> int:
    """The cyclomatic complexity after McCabe: one, and one more for each decision."""
    count = 1
    for node in ast.walk(function):
        if isinstance(node, _BRANCHING):
            count += 1
        elif isinstance(node, ast.BoolOp):
            count += len(node.values) - 1
        elif isinstance(node, ast.comprehension):
            count += 1 + len(node.ifs)
        elif isinstance(node, ast.match_case):
            count += 1
    return count


def imports() -> dict[str, set[str]]:
    """The modules that each module of the package imports, also in functions and for types."""
    module_at = {path: _module_name(path) for path in sources(PACKAGE)}
    known = set(module_at.values())
    found: dict[str, set[str]] = {}
    for path, module in module_at.items():
        imported: set[str] = set()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                # `from package import name` imports a module of that name, or the package itself.
                inner = {f"{node.module}.{alias.name}" for alias in node.names}
                imported |= inner & known or {node.module} & known
            elif isinstance(node, ast.Import):
                imported |= {alias.name for alias in node.names} & known
        found[module] = imported - {module}
    return found


def _module_name(path: Path) -> str:
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def circles(edges: dict[str, set[str]]) -> list[list[str]]:
    """Groups of modules that import each other: strongly connected components, after Tarjan."""
    order: dict[str, int] = {}
    low: dict[str, int] = {}
    stack: list[str] = []
    found: list[list[str]] = []

    def visit(name: str) -> None:
        order[name] = low[name] = len(order)
        stack.append(name)
        for to in sorted(edges[name]):
            if to not in order:
                visit(to)
                low[name] = min(low[name], low[to])
            elif to in stack:
                low[name] = min(low[name], order[to])
        if low[name] == order[name]:
            group = stack[stack.index(name) :]
            del stack[stack.index(name) :]
            if len(group) > 1:
                found.append(sorted(group))

    for name in sorted(edges):
        if name not in order:
            visit(name)
    return found


def figures() -> Iterator[Figure]:
    """Every figure that has a limit: of files and folders also in tests, of code in the package."""
    for top in (PACKAGE, TESTS):
        files_in: dict[Path, int] = defaultdict(int)
        for path in sources(top):
            files_in[path.parent] += path.name != "__init__.py"
            yield Figure("lines of a file", _name(path), lines_of(path))
        for folder, count in files_in.items():
            yield Figure("files in a folder", _name(folder), count)
    paths_of: dict[str, list[Path]] = defaultdict(list)
    for path in sources(PACKAGE):
        paths_of[path.name].append(path)
        yield from _figures_of_functions(path)
    for name, paths in paths_of.items():
        if not name.startswith("__"):
            yield Figure("files of one name", ", ".join(map(_name, paths)), len(paths))
    for circle in circles(imports()):
        yield Figure("modules in a circle", ", ".join(circle), len(circle))


def _figures_of_functions(path: Path) -> Iterator[Figure]:
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            name = f"{_name(path)}:{node.lineno} {node.name}"
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            yield Figure("lines of a function", name, length)
            yield Figure("parameters of a function", name, parameters(node))
            yield Figure("complexity of a function", name, complexity(node))


def _name(path: Path) -> str:
    return str(path.relative_to(PACKAGE.parent))


def main() -> int:
    """Print the largest figure of each kind, the figures without a limit, and those over one."""
    found = list(figures())
    for kind in LIMITS:
        of_kind = [figure for figure in found if figure.kind == kind]
        if of_kind:
            print(max(of_kind, key=lambda figure: figure.value))
    package = sources(PACKAGE)
    total = sum(map(lines_of, package))
    print(f"{'lines of the package':26} {total:5}")
    print(f"{'comments in 1,000 lines':26} {1000 * sum(map(comments_of, package)) / total:5.1f}")
    for path in package:
        if path.name != "__init__.py" and lines_of(path) < FEW_LINES:
            print(f"{f'under {FEW_LINES} lines':26} {lines_of(path):5} {_name(path)}")
    over = [figure for figure in found if figure.is_over]
    for figure in over:
        print(f"OVER: {figure}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
