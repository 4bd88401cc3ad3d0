"""Seeded networks for the solver: zones as crews lay them, brutal ones, and large ones."""

from __future__ import annotations

from random import Random

from fieldbook.trade.pipes import PIPE_CLASSES
from fieldbook.water import Device, Head, Link, Network, Node, Pipe, Regulator, Supply, Valve

_CLASSES = ("pvc sch 40", "pvc sdr 21", "pe sidr", "pex sdr 9")


def bore(pick: Random, size: str) -> tuple[float, float]:
    """The bore in inches and the C of a random pipe class that is made in that size."""
    made = [one for one in _CLASSES if size in PIPE_CLASSES[one].bores_in]
    found = PIPE_CLASSES[pick.choice(made)]
    return found.bores_in[size], found.c


def realistic(seed: int) -> Network:
    """A zone as a crew lays it: street, meter, service, assembly, mainline, valve, lateral."""
    pick = Random(seed)
    supply = Supply(pick.uniform(40, 90))
    if pick.random() < 0.4:
        residual = supply.static_psi * pick.uniform(0.6, 0.9)
        supply = Supply(supply.static_psi, residual, pick.uniform(8, 20))
    z = 0.0
    nodes, links = [Node("street")], []

    def go(name: str, kind: Pipe | Device | Valve | Regulator, rise: float = 0.0) -> None:
        nonlocal z
        z += rise
        links.append(Link(name, nodes[-1].name, f"after {name}", kind))
        nodes.append(Node(f"after {name}", z))

    go("meter", Valve.rated(15.0, pick.choice((20.0, 30.0, 50.0))))
    go("service", Pipe(pick.uniform(20, 120), *bore(pick, pick.choice(("3/4", "1", "1-1/4")))))
    go("assembly", _assembly(pick))
    go("main", Pipe(pick.uniform(0, 150), *bore(pick, "1"), fittings_part=0.1), pick.uniform(-8, 8))
    go("valve", Valve(pick.uniform(4, 15)))
    if pick.random() < 0.25:
        go("regulator", Regulator(pick.choice((25.0, 30.0, 40.0))))
    _lateral(pick, nodes, links, pick.randint(2, 14))
    return Network(supply, "street", tuple(nodes), tuple(links))


def _assembly(pick: Random) -> Device:
    if pick.random() < 0.5:
        return Device(((0.0, 3.0), (10.0, 3.5), (20.0, 5.0), (40.0, 9.0)))
    return Device(((0.0, 12.0), (5.0, 11.2), (15.0, 10.8), (30.0, 12.5)))


def _lateral(pick: Random, nodes: list[Node], links: list[Link], count: int) -> None:
    """Heads at the ends of runs, each run fed by one of the three before it."""
    ends = [nodes[-1]]
    kind = pick.choice((None, 30.0, 45.0))
    for no in range(count):
        start = pick.choice(ends[-3:])
        z = start.elevation_ft + pick.uniform(-2.5, 2.5)
        regulated = kind if kind is None or pick.random() < 0.8 else None
        head = Head.rated(
            f"head {no}", pick.uniform(0.3, 4.0), pick.choice((25.0, 30.0, 45.0)), regulated
        )
        nodes.append(Node(f"run {no}", z, (head,)))
        size = pick.choice(("1/2", "3/4", "1"))
        pipe = Pipe(pick.uniform(3, 30), *bore(pick, size), fittings_k=pick.choice((0.0, 1.5)))
        links.append(Link(f"run {no}", start.name, nodes[-1].name, pipe))
        ends.append(nodes[-1])


def brutal(seed: int) -> Network:
    """Anything that can be typed: 0.5 to 2,000 psi, pipes of no length, 30 ft jumps, odd tables."""
    pick = Random(seed)
    static = 10 ** pick.uniform(-0.3, 3.3)
    supply = Supply(static)
    if pick.random() < 0.5:
        supply = Supply(
            static,
            static * pick.uniform(0.0, 0.999),
            10 ** pick.uniform(-1, 2.5),
            pick.choice((1.852, 2.0, 1.5)),
        )
    nodes = [Node("n0", pick.uniform(-30, 30))]
    links: list[Link] = []
    for no in range(1, pick.randint(3, 40)):
        start = pick.choice(nodes[-4:])
        heads = tuple(
            Head(f"h{no}.{place}", 10 ** pick.uniform(-3, 1.5), _cap(pick))
            for place in range(pick.choice((0, 1, 1, 1, 2)))
        )
        nodes.append(Node(f"n{no}", start.elevation_ft + pick.choice((0, 0, 30, -30, 3)), heads))
        links.append(Link(f"l{no}", start.name, f"n{no}", _brutal_kind(pick)))
    last = Node("last", 0.0, (Head("last head", 1.0),))
    links.append(Link("last", nodes[-1].name, "last", Pipe(10.0, 1.0)))
    return Network(supply, "n0", (*nodes, last), tuple(links))


def _cap(pick: Random) -> float | None:
    return None if pick.random() < 0.5 else 10 ** pick.uniform(-1, 2.5)


def _brutal_kind(pick: Random) -> Pipe | Device | Valve | Regulator:
    draw = pick.random()
    if draw < 0.55:
        return Pipe(
            pick.choice((0.0, 0.01, 12.0, 400.0, 5000.0)),
            10 ** pick.uniform(-0.6, 0.7),
            pick.choice((60.0, 100.0, 150.0)),
            fittings_k=pick.choice((0.0, 0.0, 5.0)),
        )
    if draw < 0.7:
        return Valve(10 ** pick.uniform(-1.5, 2))
    if draw < 0.85:
        level = pick.uniform(0.0, 15.0)
        fall = level * pick.uniform(0.0, 0.4)
        return Device(
            ((0.0, level), (pick.uniform(1, 8), level - fall), (pick.uniform(9, 60), level + 5))
        )
    return Regulator(10 ** pick.uniform(0, 2.2))


def large(count: int, seed: int = 1) -> Network:
    """A network of about `count` nodes: a wide mainline with laterals of ten heads each."""
    pick = Random(seed)
    nodes, links = [Node("n0")], []
    at = "n0"
    for main in range(max(count // 11, 1)):
        links.append(Link(f"m{main}", at, f"n{main + 1}", Pipe(20.0, 8.0)))
        at = f"n{main + 1}"
        nodes.append(Node(at, pick.uniform(-3, 3)))
        start = at
        for no in range(10):
            name = f"n{main + 1}.{no}"
            nodes.append(Node(name, pick.uniform(-3, 3), (Head.rated(name, 0.4, 30.0),)))
            links.append(Link(f"l{name}", start, name, Pipe(12.0, 1.049)))
            start = name
    return Network(Supply(80.0), "n0", tuple(nodes), tuple(links))
