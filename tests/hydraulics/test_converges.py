"""Three thousand houses drawn at random, and not one without an answer."""

import random

import pytest

from plancheck.hydraulics.solving import solve
from tests.hydraulics.houses import random_house

HOUSES = 3000


def test_every_house_converges(capsys: pytest.CaptureFixture[str]) -> None:
    rng = random.Random(20260501)
    rounds = []
    for number in range(HOUSES):
        house = random_house(rng)
        solution = solve(house.network)
        assert solution.converged, (number, solution.why)
        assert solution.imbalance_m3s < 1e-9
        rounds.append(solution.rounds)
    with capsys.disabled():
        print(f"\n{HOUSES} houses: {sum(rounds) / HOUSES:.1f} rounds on average, {max(rounds)} at most")
