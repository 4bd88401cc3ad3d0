"""Small dense systems of equations, for the few chords that close loops."""

from __future__ import annotations


def eliminate(rows: list[list[float]]) -> list[float]:
    """Gauss with partial pivoting on [matrix | right side]; a singular row changes nothing."""
    size = len(rows)
    for col in range(size):
        pivot = max(range(col, size), key=lambda no: abs(rows[no][col]))
        rows[col], rows[pivot] = rows[pivot], rows[col]
        if not rows[col][col]:
            continue
        for no in range(col + 1, size):
            part = rows[no][col] / rows[col][col]
            if part:
                rows[no] = [a - part * b for a, b in zip(rows[no], rows[col], strict=True)]
    found = [0.0] * size
    for col in range(size - 1, -1, -1):
        rest = rows[col][size] - sum(rows[col][k] * found[k] for k in range(col + 1, size))
        found[col] = rest / rows[col][col] if rows[col][col] else 0.0
    return found
