"""Plans of any size, as data: what no house has, to see that nothing grows faster than the plan."""

from __future__ import annotations

from typing import Any

Data = dict[str, Any]


def empty() -> Data:
    """A source, a first tee and a heater on its branch."""
    return {
        "plancheck": 1,
        "tubes": {"t": {"material": "PEX-A", "size": "1/2", "colour": "white"}},
        "parts": {
            "street": {"is": "source"},
            "first": {"is": "tee", "at": [0, 0, 0]},
            "heater": {"is": "water heater"},
        },
        "runs": {
            "entry": run("street", "first"),
            "feed": run("first/branch", "heater/cold"),
        },
    }


def run(start: str, end: str, length: str = "1 ft", rise: Any = 0) -> Data:
    """A run with length and rise."""
    return {"from": start, "to": end, "tube": "t", "length": length, "rise": rise}


def tees_in_series(count: int) -> Data:
    """Two lines of tees, cold and hot, with a lavatory on each pair of them: four runs a tee."""
    plan = empty()
    parts, runs = plan["parts"], plan["runs"]
    cold, hot = "first/out", "heater/hot"
    for n in range(count):
        parts[f"c{n}"], parts[f"h{n}"] = {"is": "tee"}, {"is": "tee"}
        parts[f"f{n}"] = {"is": "lavatory", "supply": {"stop": "angle"}}
        runs[f"cold-{n}"], runs[f"hot-{n}"] = run(cold, f"c{n}", "12 in", "1 in"), run(hot, f"h{n}", "12 in", "1 in")
        runs[f"cold-drop-{n}"] = run(f"c{n}/branch", f"f{n}/cold", "2 ft", "1 ft")
        runs[f"hot-drop-{n}"] = run(f"h{n}/branch", f"f{n}/hot", "2 ft", "1 ft")
        cold, hot = f"c{n}/out", f"h{n}/out"
    parts["cold-end"], parts["hot-end"] = {"is": "cap"}, {"is": "tee"}
    runs["cold-last"], runs["hot-last"] = run(cold, "cold-end"), run(hot, "hot-end")
    return plan


def tees_in_a_ring(count: int) -> Data:
    """A ring of tees with a toilet on each, walked by paths."""
    plan = empty()
    parts, runs = plan["parts"], plan["runs"]
    parts["join"] = {"is": "tee"}
    runs["to-ring"] = {"from": "first/out", "to": "join/branch", "tube": "t", "path": ["north 1 ft"]}
    last = "join/out"
    for n in range(count):
        way = "east 1 ft" if n < count // 2 else "west 1 ft"
        parts[f"r{n}"], parts[f"wc{n}"] = {"is": "tee"}, {"is": "toilet", "supply": {"stop": "angle"}}
        runs[f"ring-{n}"] = {"from": last, "to": f"r{n}", "tube": "t", "path": [way]}
        runs[f"drop-{n}"] = run(f"r{n}/branch", f"wc{n}")
        last = f"r{n}/out"
    runs["ring-last"] = {"from": last, "to": "join/in", "tube": "t", "path": ["up 1 in", "down 1 in"]}
    return plan


def valves_in_series(count: int) -> Data:
    """A line in which every toilet hangs behind one more valve."""
    plan = empty()
    parts, runs = plan["parts"], plan["runs"]
    last = "first/out"
    for n in range(count):
        parts[f"v{n}"] = {"is": "valve"}
        parts[f"t{n}"] = {"is": "tee", "onto": f"v{n}"}
        parts[f"wc{n}"] = {"is": "toilet", "supply": {"stop": "angle"}}
        runs[f"line-{n}"], runs[f"drop-{n}"] = run(last, f"v{n}"), run(f"t{n}/branch", f"wc{n}")
        last = f"t{n}/out"
    return plan


def pumps_at_sinks(count: int) -> Data:
    """The two lines of tees, with a pump from hot to cold at every lavatory."""
    plan = tees_in_series(count)
    parts, runs = plan["parts"], plan["runs"]
    for n in range(count):
        parts[f"p{n}"], parts[f"a{n}"], parts[f"b{n}"] = {"is": "pump"}, {"is": "tee"}, {"is": "tee"}
        runs[f"cold-drop-{n}"]["to"], runs[f"hot-drop-{n}"]["to"] = f"a{n}", f"b{n}"
        runs[f"cold-stub-{n}"], runs[f"hot-stub-{n}"] = run(f"a{n}/out", f"f{n}/cold"), run(f"b{n}/out", f"f{n}/hot")
        runs[f"to-pump-{n}"], runs[f"from-pump-{n}"] = run(f"b{n}/branch", f"p{n}/in"), run(f"p{n}/out", f"a{n}/branch")
    return plan
