"""Print the figures of the house, and exit with 1 where one is over its limit.

    python tests/measure_house.py

Files a folder, lines a file, lines and parameters and branches a function, import circles (those
for type checking too), names that two files share, and comments per 1,000 lines.
"""

from __future__ import annotations

import ast
import io
import sys
import tokenize
from collections import defaultdict
from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from pathlib import Path

PACKAGE = Path(__file__).resolve().parent.parent / "fieldbook"
TESTS = Path(__file__).resolve().parent

MOST_FILES = 20
MOST_LINES = 400
FEW_LINES = 40
MOST_FUNCTION_LINES = 50
MOST_PARAMETERS = 6
MOST_BRANCHES = 15
LINES_BEFORE = 27_190
"""Lines of the package before it was regrouped; it is not to grow by regrouping."""

_BRANCHING = (ast.If, ast.For, ast.AsyncFor, ast.While, ast.ExceptHandler, ast.IfExp, ast.Assert)
_Function = ast.FunctionDef | ast.AsyncFunctionDef


@dataclass(frozen=True)
class Measured:
    """One figure: what it is of, how much, and the most it may be."""

    what: str
    of: str
    value: int
    most: int

    @property
    def over(self) -> bool:
        """Whether it is more than it may be."""
        return self.value > self.most


def sources(top: Path) -> list[Path]:
    """The Python files below a folder."""
    return sorted(path for path in top.rglob("*.py") if "__pycache__" not in path.parts)


def module_of(path: Path) -> str:
    """The dotted name of a file of the package."""
    parts = path.relative_to(PACKAGE.parent).with_suffix("").parts
    return ".".join(part for part in parts if part != "__init__")


def files_by_folder(top: Path) -> dict[str, int]:
    """How many Python files each folder holds, but for `__init__.py`."""
    found: dict[str, int] = defaultdict(int)
    for path in sources(top):
        if path.name != "__init__.py":
            found[str(path.parent.relative_to(top.parent))] += 1
    return dict(found)


def functions(path: Path) -> Iterator[tuple[str, _Function]]:
    """Every function of a file, with its name."""
    for node in ast.walk(ast.parse(path.read_text("utf-8"))):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield f"{path.relative_to(PACKAGE.parent)}:{node.lineno} {node.name}", node


def parameters(node: _Function) -> int:
    """How many parameters a function has, but for self and cls."""
    taken = node.args
    named = [one.arg for one in (*taken.posonlyargs, *taken.args, *taken.kwonlyargs)]
    named += [one.arg for one in (taken.vararg, taken.kwarg) if one is not None]
    return len([one for one in named if one not in ("self", "cls")])


def branches(node: _Function) -> int:
    """The cyclomatic complexity after McCabe: one, and one more for each decision."""
    count = 1
    for one in ast.walk(node):
        if isinstance(one, _BRANCHING):
            count += 1
        elif isinstance(one, ast.BoolOp):
            count += len(one.values) - 1
        elif isinstance(one, ast.comprehension):
            count += 1 + len(one.ifs)
        elif isinstance(one, ast.match_case):
            count += 1
    return count


def imports() -> dict[str, set[str]]:
    """Which module of the package imports which, also inside functions and for type checking."""
    known = {module_of(path) for path in sources(PACKAGE)}
    found: dict[str, set[str]] = {}
    for path in sources(PACKAGE):
        named: set[str] = set()
        for node in ast.walk(ast.parse(path.read_text("utf-8"))):
            if isinstance(node, ast.ImportFrom) and node.module:
                # `from package import name` may name a module, or what the package itself holds.
                whole = {f"{node.module}.{one.name}" for one in node.names}
                named |= whole & known or {node.module} & known
            elif isinstance(node, ast.Import):
                named |= {one.name for one in node.names} & known
        found[module_of(path)] = named - {module_of(path)}
    return found


def circles(edges: dict[str, set[str]]) -> list[list[str]]:
    """Groups of modules that import each other (strongly connected, after Tarjan)."""
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


def shared_names() -> dict[str, list[str]]:
    """File names that stand more than once in the package."""
    by_name: dict[str, list[str]] = defaultdict(list)
    for path in sources(PACKAGE):
        if not path.name.startswith("__"):
            by_name[path.name].append(str(path.relative_to(PACKAGE.parent)))
    return {name: paths for name, paths in by_name.items() if len(paths) > 1}


def comments(path: Path) -> int:
    """How many comments a file has."""
    text = path.read_text("utf-8")
    tokens = tokenize.generate_tokens(io.StringIO(text).readline)
    return sum(1 for token in tokens if token.type == tokenize.COMMENT)


def lines_of(path: Path) -> int:
    """How many lines a file has."""
    return len(path.read_text("utf-8").splitlines())


def measured() -> Iterable[Measured]:
    """Every figure that has a limit."""
    for top in (PACKAGE, TESTS):
        for folder, count in files_by_folder(top).items():
            yield Measured("files", folder, count, MOST_FILES)
        for path in sources(top):
            yield Measured("lines", str(path.relative_to(top.parent)), lines_of(path), MOST_LINES)
    for path in sources(PACKAGE):
        for name, node in functions(path):
            length = (node.end_lineno or node.lineno) - node.lineno + 1
            yield Measured("function lines", name, length, MOST_FUNCTION_LINES)
            yield Measured("parameters", name, parameters(node), MOST_PARAMETERS)
            yield Measured("complexity", name, branches(node), MOST_BRANCHES)
    for name, paths in shared_names().items():
        yield Measured("files of one name", f"{name}: {', '.join(paths)}", len(paths), 1)
    for circle in circles(imports()):
        yield Measured("import circle", ", ".join(circle), len(circle), 1)
    total = sum(lines_of(path) for path in sources(PACKAGE))
    yield Measured("lines of the package", "fieldbook", total, LINES_BEFORE)


def main() -> int:
    """Print the largest figure of each kind, every one that is over, and the small files."""
    found = list(measured())
    worst: dict[str, Measured] = {}
    for one in found:
        if one.what not in worst or one.value > worst[one.what].value:
            worst[one.what] = one
    for one in worst.values():
        print(f"{one.what:22} {one.value:6} (at most {one.most}) {one.of}")
    package = sources(PACKAGE)
    total = sum(lines_of(path) for path in package)
    said = sum(comments(path) for path in package)
    print(f"{'comments':22} {said * 1000 / total:6.1f} per 1,000 lines")
    small = [path for path in package if path.name != "__init__.py" and lines_of(path) < FEW_LINES]
    for path in small:
        print(f"under {FEW_LINES} lines: {path.relative_to(PACKAGE.parent)} {lines_of(path)}")
    over = [one for one in found if one.over]
    for one in over:
        print(f"OVER: {one.what} {one.value} (at most {one.most}) {one.of}")
    return 1 if over else 0


if __name__ == "__main__":
    sys.exit(main())
