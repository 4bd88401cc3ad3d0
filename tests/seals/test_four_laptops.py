"""Four laptops with keys on two sticks, one cloned, one restored: at the end they hold the same."""

from __future__ import annotations

import random
import shutil
from pathlib import Path

import pytest
from examples import few_or_many
from sealed_trucks import states, through
from trucks import Truck

from fieldbook.store.mending.verify import verify
from fieldbook.store.seals.laptop_key import name_laptop


@pytest.mark.parametrize("seed", [1, 2])
@few_or_many("rounds", 10, 60)
def test_four_laptops_hold_the_same(tmp_path: Path, seed: int, rounds: int) -> None:
    pick = random.Random(seed)
    sticks = [tmp_path / "stick 1", tmp_path / "stick 2"]
    for stick in sticks:
        stick.mkdir()
    trucks = [Truck(tmp_path, who) for who in ("AB", "CD", "EF")]
    for truck in trucks:
        with truck.open():
            name_laptop(f"truck {truck.who}")
    jobs = [truck.begin(f"{number} Elm Street") for number, truck in enumerate(trucks, 1)]
    for stick in sticks:
        for truck in (*trucks, *trucks):
            through(truck, stick)
    # The clone has everything of its original, its key and its tokens too.
    clone = Truck.__new__(Truck)
    clone.set_paths(tmp_path, "GH")
    shutil.copytree(trucks[0].folder, clone.folder)
    trucks.append(clone)
    backup = tmp_path / "backup"
    shutil.copy(trucks[1].path, backup)
    for number in range(rounds):
        truck = pick.choice(trucks)
        truck.enter_static(pick.choice(jobs), str(pick.randint(40, 90)))
        if pick.random() < 0.5:
            report = through(pick.choice(trucks), pick.choice(sticks))
            assert (report.unsigned, report.wrongly_signed, report.notes) == (0, 0, ())
        if number == rounds // 2:
            through(trucks[1], sticks[0])
            shutil.copy(backup, trucks[1].path)
    for _ in range(3):
        for truck in trucks:
            for stick in sticks:
                assert through(truck, stick).notes == ()
    first = trucks[0].exported()
    for truck in trucks:
        assert truck.exported() == first
        assert states(truck) == {"signed"}
        assert verify(truck.path).wrong == ()
