"""An oracle that knows neither Newton's method nor heads of nodes: the flows of a network make its content least.

Content: the integral of each edge's loss over its flow, less head times flow where water comes in at a known head. With
the nodes balanced and no flow backwards through one-way edges it is convex, so its least is the one answer. The losses are
written anew here (friction held to the reference library, fluids), integrals are sums at Gauss and Legendre's points, and
scipy's minimiser starts at no flow at all and is told nothing of the solver's answer. A regulated outlet is a bound here.

How near they come: content within 1e-9 of itself, flows within 1e-7 of the largest (held here to 1e-8 and 1e-6); with
regulated outlets flows within 1.1e-3 of the largest, since the solver lets each of them pass a little more than its most.
"""

import itertools
import math
import random

import fluids
import numpy as np
import pytest
from scipy.optimize import minimize

from plancheck.hydraulics.plain import Darcy, Edge, Linear, Network, OneWay, Outlet, Quadratic, Regulator
from plancheck.hydraulics.solving import solve
from plancheck.hydraulics.trim import trim
from tests.hydraulics.houses import random_house

SCALE = 1e-4  # m3/s: one unit of flow in what follows
CUTS = (1.0, 1500.0, 2000.0, 2400.0, 2800.0, 3500.0, 6000.0, 2e4, 1e5)  # Reynolds numbers between which f bends little
X, W = np.polynomial.legendre.leggauss(10)
HOUSES = 12


def churchill(re: np.ndarray, relative: np.ndarray) -> np.ndarray:
    """Darcy's f as Churchill printed it, laminar through turbulent; re at least 10."""
    a = (2.457 * np.log(1.0 / ((7.0 / re) ** 0.9 + 0.27 * relative))) ** 16
    return 8.0 * ((8.0 / re) ** 12 + (a + (37530.0 / re) ** 16) ** -1.5) ** (1.0 / 12.0)


def test_friction_here_is_the_library_s() -> None:
    for re, relative in itertools.product((10.0, 500.0, 2300.0, 3000.0, 1e4, 2e5), (0.0, 1e-4, 1e-2)):
        assert churchill(np.array(re), np.array(relative)) == pytest.approx(
            fluids.friction.Churchill_1977(re, relative), rel=1e-9
        )


class Pipes:
    """All pipes of a network: their losses, and contents, by their flows in units of SCALE."""

    def __init__(self, laws: list[Darcy]) -> None:
        bores = np.array([law.bore_m for law in laws])
        self.relative = np.array([law.roughness_m for law in laws]) / bores
        self.speed = SCALE / (math.pi / 4.0 * bores**2)  # m/s at one unit
        self.re = self.speed * bores / np.array([law.viscosity_m2_s for law in laws])
        self.slender = np.array([law.length_m for law in laws]) / bores
        self.k = np.array([law.k for law in laws])
        self.two_g = 2.0 * np.array([law.g for law in laws])

    def loss(self, q: np.ndarray) -> np.ndarray:
        """Head lost, for one or many rows of flows."""
        re = np.abs(q) * self.re
        f = churchill(np.maximum(re, 10.0), self.relative)
        f = np.where(re < 10.0, 64.0 / np.maximum(re, 1e-9), f)
        return np.asarray((f * self.slender + self.k) * self.speed**2 * q * np.abs(q) / self.two_g)

    def content(self, q: np.ndarray) -> float:
        """Integral of the losses from no flow to these."""
        size = np.abs(q)
        marks = np.vstack((np.zeros_like(size), np.minimum(np.array(CUTS)[:, None] / self.re, size), size))
        total = 0.0
        for low, high in itertools.pairwise(marks):
            half = (high - low) / 2.0
            total += float((W[:, None] * half * self.loss((low + high) / 2.0 + half * X[:, None])).sum())
        return total


class Content:
    """The content of a network and its slope by the flows: pipes first, then the other edges."""

    def __init__(self, network: Network) -> None:
        self.edges = sorted(network.edges, key=lambda edge: not isinstance(edge.law, Darcy))
        laws = [edge.law for edge in self.edges]
        self.pipes = Pipes([law for law in laws if isinstance(law, Darcy)])
        self.count = len(self.pipes.k)
        others = [law for law in laws if isinstance(law, Linear | Quadratic | OneWay | Outlet)]
        self.r = np.array([law.r for law in others])
        self.straight = np.array([isinstance(law, Linear) for law in others])
        names = dict.fromkeys(n for edge in self.edges for n in (edge.a, edge.b) if n not in network.heads)
        nodes = {name: place for place, name in enumerate(names)}
        self.balance = np.zeros((len(nodes), len(self.edges)))
        self.gain = np.zeros(len(self.edges))
        for place, edge in enumerate(self.edges):
            for node, sign in ((edge.a, -1.0), (edge.b, 1.0)):
                if node in nodes:
                    self.balance[nodes[node], place] = sign
                else:
                    self.gain[place] -= sign * network.heads[node]
        self.bounds = [bounds(edge) for edge in self.edges]

    def slope(self, q: np.ndarray) -> np.ndarray:
        """Loss of each edge less the head it gains from known heads."""
        flow = q[self.count :] * SCALE
        others = np.where(self.straight, self.r * flow, self.r * flow * np.abs(flow))
        return np.concatenate((self.pipes.loss(q[: self.count]), others)) - self.gain

    def value(self, q: np.ndarray) -> float:
        """The content, in metres times units of flow."""
        flow = q[self.count :] * SCALE
        others = np.where(self.straight, self.r * flow**2 / 2.0, self.r * np.abs(flow) ** 3 / 3.0) / SCALE
        return float(self.pipes.content(q[: self.count]) + others.sum() - self.gain @ q)


def bounds(edge: Edge) -> tuple[float | None, float | None]:
    """The least and the most flow of an edge."""
    if isinstance(edge.law, Outlet):
        return 0.0, None if edge.law.most_m3s == math.inf else edge.law.most_m3s / SCALE
    return (0.0, None) if isinstance(edge.law, OneWay) else (None, None)


def moving_houses(count: int) -> list[Network]:
    """What moves in random houses without regulators (their set head is no law of loss)."""
    rng = random.Random(7)
    found: list[Network] = []
    while len(found) < count:
        network = random_house(rng).network
        moving = trim(network).network
        if len(moving.edges) > 12 and not any(isinstance(edge.law, Regulator) for edge in network.edges):
            found.append(moving)
    return found


def unlimited(network: Network) -> Network:
    """The same with outlets that pass what they can."""
    edges = (edge._replace(law=Outlet(edge.law.r)) if isinstance(edge.law, Outlet) else edge for edge in network.edges)
    return network._replace(edges=tuple(edges))


def least(content: Content) -> np.ndarray:
    """The flows of the least content, from no flow at all."""
    found = minimize(
        content.value, np.zeros(len(content.edges)), jac=content.slope, method="SLSQP", bounds=content.bounds,
        constraints={"type": "eq", "fun": lambda q: content.balance @ q, "jac": lambda q: content.balance},
        options={"ftol": 1e-13, "maxiter": 1000},
    )  # fmt: skip
    assert np.abs(content.balance @ found.x).max() < 1e-7, found.message
    return np.asarray(found.x)


def solved(content: Content, network: Network) -> np.ndarray:
    """The solver's flows."""
    solution = solve(network)
    assert solution.converged
    return np.array([solution.flows[edge.id] for edge in content.edges]) / SCALE


NETWORKS = moving_houses(HOUSES)
NAMES = [f"house {number}" for number in range(HOUSES)]


@pytest.mark.parametrize("network", NETWORKS, ids=NAMES)
def test_flows_make_the_content_least(network: Network) -> None:
    network = unlimited(network)
    content = Content(network)
    flows, best = solved(content, network), least(content)
    assert content.value(flows) == pytest.approx(content.value(best), rel=1e-8)
    assert np.abs(flows - best).max() <= 1e-6 * np.abs(flows).max()


@pytest.mark.parametrize("network", NETWORKS, ids=NAMES)
def test_with_regulated_outlets(network: Network) -> None:
    """Content cannot be compared: what they pass above their most makes the solver's a little less than the least."""
    content = Content(network)
    flows, best = solved(content, network), least(content)
    assert np.abs(flows - best).max() <= 2e-3 * np.abs(flows).max()


def test_the_oracle_would_see_a_wrong_answer() -> None:
    """A hundredth more around a ring: balances stay whole, and the content rises by more than the tolerance above."""
    tried = 0
    for network in map(unlimited, NETWORKS):
        content = Content(network)
        flows = solved(content, network)
        free = np.linalg.svd(content.balance)[2][np.linalg.matrix_rank(content.balance) :]
        for way in (*free, *-free):
            aside = flows + 1e-2 * np.abs(flows).max() * way
            if all(low is None or one >= low for (low, _), one in zip(content.bounds, aside, strict=True)):
                assert content.value(aside) > content.value(flows) + 1e-8 * abs(content.value(flows))
                tried += 1
    assert tried > 20
