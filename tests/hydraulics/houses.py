"""Houses and blocks of flats as plain networks, drawn at random or fixed: what the tests and the timings solve.

Figures are of the size met in houses: tube of half an inch to an inch, insert fittings, a street main of 5 to 120 psi.
"""

import random
from typing import NamedTuple

from plancheck.hydraulics.plain import Darcy, Edge, Law, Linear, Network, OneWay, Outlet, Quadratic, Regulator

PSI_M = 0.70307  # m of water in one psi
GPM = 6.30902e-5  # m3/s in one US gallon a minute
INCH = 0.0254
BORES_IN = (0.35, 0.475, 0.671, 0.862)  # average-wall bores of 3/8 to 1 in tube
HOT_M2_S = 0.54e-6  # kinematic viscosity at 125 degF
AIR = "air"


class House(NamedTuple):
    """A network and what a test wants to know of it: its outlets, and for each fixture the edges it opens and shuts."""

    network: Network
    fixtures: dict[str, tuple[str, ...]]

    def with_open(self, fixtures: frozenset[str]) -> Network:
        """The same house with only these fixtures open."""
        shut = {edge for name, edges in self.fixtures.items() if name not in fixtures for edge in edges}
        return self.network._replace(edges=tuple(edge._replace(shut=edge.id in shut) for edge in self.network.edges))


def orifice(gpm: float, psi: float) -> float:
    """The r of an opening that passes so many gpm at so many psi."""
    flow = gpm * GPM
    return psi * PSI_M / (flow * flow)


class Build:
    """Edges and known heads put down one after the other; after a prefix, so that many houses make one block."""

    def __init__(self) -> None:
        self.edges: list[Edge] = []
        self.heads: dict[str, float] = {}
        self.fixtures: dict[str, tuple[str, ...]] = {}

    def add(self, a: str, b: str, law: Law) -> str:
        """Puts down an edge and returns its name."""
        name = f"{a}>{b}"
        self.edges.append(Edge(name, a, b, law))
        return name

    def tube(self, a: str, b: str, feet: float, bore_in: float, k: float = 0.0, hot: bool = False) -> str:
        """Puts down a run of tube."""
        bore = bore_in * INCH
        law = Darcy(feet * 0.3048, bore, k, viscosity_m2_s=HOT_M2_S) if hot else Darcy(feet * 0.3048, bore, k)
        return self.add(a, b, law)

    def manifold(self, name: str, ports: int, how: str, bore_in: float, spacing_ft: float, hot: bool = False) -> None:
        """Ports name0, name1 ... on a chain fed at its end, at its centre, or on a ring; fed at the node `name`."""
        first = ports // 2 if how == "centre" else 0
        self.tube(name, f"{name}{first}", spacing_ft, bore_in, 1.5, hot)
        for port in range(ports - 1):
            self.tube(f"{name}{port}", f"{name}{port + 1}", spacing_ft, bore_in, 1.1, hot)
        if how == "ring":
            self.tube(f"{name}{ports - 1}", name, spacing_ft, bore_in, 1.1, hot)

    def tap(self, name: str, port: str, height_m: float, r: float, most_gpm: float = 0.0, feet: float = 25.0) -> None:
        """A home run to a fixture at a height; most_gpm: what a regulated one is held to."""
        self.tube(port, name, feet, BORES_IN[1], 6.0)
        law = Outlet(r, most_gpm * GPM) if most_gpm else Outlet(r)
        self.fixtures[name] = (self.add(name, self.air(height_m), law),)

    def shower(self, name: str, ports: tuple[str, str], height_m: float, valve_r: float, head: Outlet) -> None:
        """Two home runs, two one-way orifices into the mixing body, and a head."""
        cold, hot = (f"{name}-cold", f"{name}-hot")
        self.tube(ports[0], cold, 25.0, BORES_IN[1], 6.0)
        self.tube(ports[1], hot, 25.0, BORES_IN[1], 6.0, hot=True)
        body = f"{name}-body"
        orifices = (self.add(cold, body, OneWay(valve_r * 2.0)), self.add(hot, body, OneWay(valve_r)))
        self.fixtures[name] = (*orifices, self.add(body, self.air(height_m), head))

    def air(self, height_m: float) -> str:
        """The node of open air at a height."""
        name = f"{AIR}{height_m:.2f}"
        self.heads[name] = height_m
        return name

    def house(self) -> House:
        """What was put down."""
        return House(Network(self.heads, tuple(self.edges)), self.fixtures)


def fixed_house() -> House:
    """The house of the timings: 43 unknown nodes, two rings of eight ports, two showers, eight other outlets."""
    build = Build()
    _supply(build, "", 60.0, 50.0, BORES_IN[3])
    _fill(build, "", "ring", BORES_IN[2], 1.0)
    return build.house()


def _supply(build: Build, at: str, psi: float, feet: float, bore_in: float) -> None:
    build.heads[f"{at}main"] = psi * PSI_M
    build.add(f"{at}main", f"{at}street", Quadratic(orifice(40.0, 5.0)))
    build.add(f"{at}street", f"{at}meter", Quadratic(orifice(20.0, 7.0)))
    build.tube(f"{at}meter", f"{at}in", feet, bore_in, 5.0)


def _fill(build: Build, at: str, how: str, bore_in: float, spacing_ft: float) -> None:
    """Everything behind the inlet of a house or a flat."""
    build.tube(f"{at}in", f"{at}c", 6.0, bore_in, 2.0)
    build.tube(f"{at}in", f"{at}heater", 8.0, bore_in, 4.0)
    build.add(f"{at}heater", f"{at}heated", Quadratic(orifice(8.0, 2.0)))
    build.tube(f"{at}heated", f"{at}h", 6.0, bore_in, 3.0, hot=True)
    build.manifold(f"{at}c", 8, how, bore_in, spacing_ft)
    build.manifold(f"{at}h", 8, how, bore_in, spacing_ft, hot=True)
    head = Outlet(orifice(2.5, 80.0))
    build.shower(f"{at}shower", (f"{at}c7", f"{at}h7"), 3.6 + 1.9, orifice(4.5, 45.0), head)
    build.shower(f"{at}bath", (f"{at}c5", f"{at}h5"), 3.6 + 0.6, orifice(6.0, 45.0), Outlet(orifice(4.0, 20.0)))
    build.tap(f"{at}toilet", f"{at}c6", 3.8, orifice(3.0, 20.0))
    build.tap(f"{at}toilet-down", f"{at}c4", 0.2, orifice(3.0, 20.0))
    build.tap(f"{at}kitchen-cold", f"{at}c0", 0.9, orifice(1.75, 8.0), 2.2)
    build.tap(f"{at}kitchen-hot", f"{at}h0", 0.9, orifice(1.75, 8.0), 2.2)
    build.tap(f"{at}basin", f"{at}c1", 4.5, orifice(0.8, 8.0), 1.5)
    build.tap(f"{at}basin-hot", f"{at}h1", 4.5, orifice(0.8, 8.0), 1.5)
    build.tap(f"{at}washer", f"{at}c2", 1.1, orifice(4.0, 8.0))
    build.tap(f"{at}hose", f"{at}c3", 0.5, orifice(5.0, 8.0))
    build.tap(f"{at}dishwasher", f"{at}h2", 0.8, orifice(2.75, 8.0))
    build.tap(f"{at}tub", f"{at}h3", 0.8, orifice(4.0, 8.0))
    build.tap(f"{at}sink", f"{at}h4", 1.0, orifice(1.75, 8.0), 2.2)
    build.tap(f"{at}sink-up", f"{at}h6", 4.5, orifice(1.75, 8.0), 1.2)
    build.tap(f"{at}bar", f"{at}h7", 1.0, orifice(1.75, 8.0), 1.5)
    build.tap(f"{at}yard", f"{at}c7", 0.4, orifice(4.0, 8.0))


def block(flats: int) -> Network:
    """Stairs of ten flats on a ring of street main, each flat with the fixtures of the fixed house; 42 nodes a flat.

    Half of the fixtures are open, in turn.
    """
    build = Build()
    stairs = (flats + 9) // 10
    build.heads["main"] = 70.0 * PSI_M
    build.add("main", "street", Quadratic(orifice(50.0 * flats, 5.0)))
    build.manifold("street", stairs, "ring", 16.0, 60.0)
    for stair in range(stairs):
        build.tube(f"street{stair}", f"s{stair}", 20.0, 4.0, 3.0)
    for flat in range(flats):
        stair = f"s{flat // 10}"
        below = f"f{flat - 1}-foot" if flat % 10 else stair
        build.tube(below, f"f{flat}-foot", 10.0, 4.0)
        build.tube(f"f{flat}-foot", f"f{flat}-in", 20.0, BORES_IN[3], 3.0)
        _fill(build, f"f{flat}-", "ring" if flat % 2 else "chain", BORES_IN[2], 1.0)
    shut = {edge for number, edges in enumerate(build.fixtures.values()) if number * 7 % 10 < 5 for edge in edges}
    return Network(build.heads, tuple(edge._replace(shut=edge.id in shut) for edge in build.edges))


def random_house(rng: random.Random) -> House:
    """Any house: pressures of 5 to 120 psi, services of 0.35 to 1.2 in, rings, chains, regulators, held outlets."""
    build = Build()
    _supply(build, "", rng.uniform(5.0, 120.0), rng.uniform(10.0, 200.0), rng.uniform(0.35, 1.2))
    start = "in"
    if rng.random() < 0.5:
        build.add("in", "low", Regulator(rng.uniform(25.0, 70.0) * PSI_M, 0.0, orifice(20.0, rng.uniform(3.0, 15.0))))
        start = "low"
    if rng.random() < 0.2:
        build.add(start, "checked", OneWay(orifice(20.0, 3.0)))
        start = "checked"
    ports = rng.randint(3, 10)
    build.tube(start, "c", rng.uniform(3.0, 30.0), rng.choice(BORES_IN[1:]), 3.0)
    build.tube(start, "heater", rng.uniform(3.0, 30.0), rng.choice(BORES_IN[1:]), 3.0)
    build.add("heater", "h", rng.choice((Quadratic(orifice(8.0, 2.0)), Linear(2.0 / (8.0 * GPM)))))
    shape = rng.choice(("ring", "end", "centre"))
    build.manifold("c", ports, shape, rng.choice(BORES_IN[1:]), rng.uniform(0.3, 4.0))
    build.manifold(
        "h", ports, rng.choice(("ring", "end", "centre")), rng.choice(BORES_IN[1:]), rng.uniform(0.3, 4.0), True
    )
    for port in range(ports):
        _random_fixture(build, rng, port)
    house = build.house()
    opened = frozenset(name for name in house.fixtures if rng.random() < 0.6)
    return house._replace(network=house.with_open(opened))


def _random_fixture(build: Build, rng: random.Random, port: int) -> None:
    height = round(rng.uniform(0.0, 8.0), 1)
    most = rng.choice((0.0, rng.uniform(0.5, 3.0)))
    r = orifice(rng.uniform(0.5, 6.0), rng.choice((8.0, 20.0, 45.0, 80.0)))
    if rng.random() < 0.35:
        head = Outlet(r, most * GPM) if most else Outlet(r)
        build.shower(f"shower{port}", (f"c{port}", f"h{port}"), height, orifice(rng.uniform(3.0, 7.0), 45.0), head)
    else:
        side = rng.choice("ch")
        build.tap(f"tap{port}", f"{side}{port}", height, r, most, rng.uniform(5.0, 80.0))
