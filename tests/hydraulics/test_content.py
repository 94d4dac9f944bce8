"""An oracle that knows no Newton method and no nodes' heads: the flows of a network make its content least.

Content: of each edge the integral of its loss over the flow; minus head times flow where water enters or leaves at a known
head. It is convex, so the least is unique. Integrals by Gauss and Legendre's rule over the loss of one edge at a time.
"""

import math
import random
from itertools import pairwise

import numpy as np
import pytest
from scipy.optimize import minimize

from plancheck.hydraulics.loss import loss_m
from plancheck.hydraulics.plain import Darcy, Law, Network, OneWay, Outlet, Regulator
from plancheck.hydraulics.solving import solve
from plancheck.hydraulics.trim import trim
from tests.hydraulics.houses import random_house

_X, _W = np.polynomial.legendre.leggauss(24)
_SCALE = 1e-4  # m3/s
_TURNING = (1.0, 500.0, 1200.0, 1700.0, 2000.0, 2300.0, 2600.0, 3000.0, 3600.0, 4500.0, 6000.0, 10000.0)


def plain_houses(count: int) -> list[Network]:
    """Random houses without regulators, only what moves in them."""
    rng = random.Random(7)
    found: list[Network] = []
    while len(found) < count:
        network = random_house(rng).network
        if any(isinstance(edge.law, Regulator) for edge in network.edges):
            continue
        moving = trim(network).network
        if len(moving.edges) > 12:
            found.append(moving)
    return found


def integral(law: Law, flow: float) -> float:
    """Of the loss from nought to the flow, in pieces: where a law bends, and where laminar turns into turbulent."""
    cuts = [0.0]
    if isinstance(law, Outlet) and law.most_m3s < flow:
        cuts.append(law.most_m3s)
    if isinstance(law, Darcy):
        one = np.pi * law.bore_m * law.viscosity_m2_s / 4.0  # the flow at Re 1
        cuts += [math.copysign(one * re, flow) for re in _TURNING if one * re < abs(flow)]
    total = 0.0
    for low, high in pairwise([*cuts, flow]):
        middle, half = (low + high) / 2, (high - low) / 2
        total += half * sum(w * loss_m(law, middle + half * x) for x, w in zip(_X, _W, strict=True))
    return total


@pytest.mark.parametrize("number", range(10))
def test_flows_make_the_content_least(number: int) -> None:
    network = plain_houses(10)[number]
    solution = solve(network)
    assert solution.converged
    nodes = {node: place for place, node in enumerate(n for n in solution.heads if n not in network.heads)}
    ends = [(nodes.get(edge.a), nodes.get(edge.b)) for edge in network.edges]
    balance = np.zeros((len(nodes), len(network.edges)))
    gain = np.zeros(len(network.edges))
    for place, ((a, b), edge) in enumerate(zip(ends, network.edges, strict=True)):
        if a is None:
            gain[place] += network.heads[edge.a]
        else:
            balance[a, place] -= 1
        if b is None:
            gain[place] -= network.heads[edge.b]
        else:
            balance[b, place] += 1
    flows = np.array([solution.flows[edge.id] for edge in network.edges])
    assert np.abs(balance @ flows).max() < 1e-9
    _, _, across = np.linalg.svd(balance)
    free = across[np.linalg.matrix_rank(balance) :].T  # the directions in which balances stay whole

    def content(at: np.ndarray) -> float:
        q = flows + free @ (at * _SCALE)
        return (
            float(sum(integral(edge.law, one) for edge, one in zip(network.edges, q, strict=True)) - gain @ q) / _SCALE
        )

    def slope(at: np.ndarray) -> np.ndarray:
        q = flows + free @ (at * _SCALE)
        losses = np.array([loss_m(edge.law, one) for edge, one in zip(network.edges, q, strict=True)])
        return np.asarray(free.T @ (losses - gain))

    here = np.zeros(free.shape[1])
    rng = np.random.default_rng(number)
    one_way = any(isinstance(edge.law, OneWay | Outlet) for edge in network.edges)
    start = np.abs(rng.normal(0.0, 0.02, free.shape[1])) if one_way else rng.normal(0.0, 0.2, free.shape[1])
    found = minimize(content, start, jac=slope, method="BFGS", options={"gtol": 1e-7, "maxiter": 4000})
    # in no direction is the content less than at the flows found, and a minimiser that knows nothing of them ends there
    assert content(here) <= found.fun + 1e-9 * abs(found.fun)
    for _ in range(20):
        aside = rng.normal(0.0, 1e-3, free.shape[1])
        assert content(aside) >= content(here) - 1e-12 * abs(content(here))
    if found.success:
        off = np.abs(free @ (found.x * _SCALE)).max()
        assert off <= 1e-4 * np.abs(flows).max()
