"""A house of nine flats with some 200 runs, made up for drawings: a row of ports in each flat, risers between."""

from __future__ import annotations

from typing import Any

FLATS = 9
ROOM = (("lav", "lavatory"), ("wc", "toilet"), ("shower", "shower"), ("sink", "kitchen sink"), ("dish", "dishwasher"), ("wash", "clothes washer"), ("tub", "bathtub"), ("tray", "laundry tray"), ("bidet", "bidet"))  # fmt: skip


def apartments() -> dict[str, Any]:
    """The plan as data."""
    parts: dict[str, Any] = {"street": {"is": "source"}, "meter": {"is": "meter", "onto": "street", "place": "cellar"}, "main": {"is": "valve", "onto": "meter", "place": "cellar", "style": "ball"}}  # fmt: skip
    runs: dict[str, Any] = {}
    places: dict[str, Any] = {"cellar": {"level": "-9 ft", "freezes": False}}
    feed = "main/out"
    for flat in range(FLATS):
        level, east, north = 10 * (flat // 3), 40 * (flat % 3), 6 * (flat % 3)
        place, row, hot = f"flat-{flat}", f"row-{flat}", f"hot-{flat}"
        places[place] = {"level": f"{level} ft", "freezes": False, "name": f"Flat {flat + 1}"}
        ports = {"in": {"use": "feed"}, **{f"P{number}": {"label": f"port {number}"} for number in range(12)}}
        parts[row] = {"is": "manifold", "place": place, "at": [f"{6 + east} ft", f"{2 + north} ft", f"{4 + level} ft"], "row": "east", "spacing": "4 in", "shape": "straight", "tube": "white", "ports": ports}
        parts[hot] = {**parts[row], "at": [f"{14 + east} ft", f"{2 + north} ft", f"{4 + level} ft"]}
        parts[f"heater-{flat}"] = {"is": "water heater", "style": "storage", "place": place, "at": [f"{12 + east} ft", f"{north} ft", f"{5 + level} ft"], "volume": "40 gal"}
        if flat < FLATS - 1:
            parts[f"tee-{flat}"] = {"is": "tee", "place": place}
            runs[f"riser-{flat}"] = {"from": feed, "to": f"tee-{flat}/in", "tube": "white", "length": "14 ft"}
            runs[f"branch-{flat}"] = {"from": f"tee-{flat}/branch", "to": row, "tube": "white", "length": "9 ft"}
            feed = f"tee-{flat}/out"
        else:
            runs[f"riser-{flat}"] = {"from": feed, "to": row, "tube": "white", "length": "16 ft"}
        runs[f"heat-{flat}"] = {"from": f"{row}/P11", "to": f"heater-{flat}/cold", "tube": "white", "length": "7 ft"}
        runs[f"warm-{flat}"] = {"from": f"heater-{flat}/hot", "to": hot, "tube": "white", "length": "5 ft"}
        _fixtures(parts, runs, flat, place, row, hot)
    return {"plancheck": 1, "job": {"title": "Nine flats at the tannery", "stage": "rough-in"}, "code": {"family": "ipc", "edition": 2021}, "water": {"static": "70 psi"}, "places": places, "tubes": {"white": {"material": "PEX-B", "size": "3/4"}, "blue": {"material": "PEX-B", "size": "1/2"}}, "parts": parts, "runs": runs}  # fmt: skip


def _fixtures(parts: dict[str, Any], runs: dict[str, Any], flat: int, place: str, row: str, hot: str) -> None:
    """Two baths, a kitchen and a wash place, every side a run of its own."""
    for number in range(2 * len(ROOM)):
        name, kind = ROOM[number % len(ROOM)]
        if number >= len(ROOM) and kind not in ("lavatory", "toilet", "shower"):
            continue
        id_ = f"{name}-{flat}-{number // len(ROOM)}"
        parts[id_] = {"is": kind, "place": place}
        port = number if number < len(ROOM) else number - len(ROOM) + 8
        ahead = f"{2 + (number * 5) % 17} ft {(number * 7) % 11} in"
        aside = "east" if number % 2 else "west"
        for side, manifold, up in (("cold", row, "4 ft"), ("hot", hot, "4 ft 4 in")):
            if (kind in ("toilet", "bidet") and side == "hot") or (kind == "dishwasher" and side == "cold"):
                continue
            end = id_ if kind in ("toilet", "dishwasher") else f"{id_}/{side}"
            at = f"{manifold}/P{min(port, 10)}"
            if any(run["from"] == at for run in runs.values()):
                continue
            path = [f"up {up}", f"north {ahead}", f"{aside} {1 + number % 5} ft", f"down {3 + number % 4} ft"]
            runs[f"{id_}-{side}"] = {"from": at, "to": end, "tube": "blue", "path": path}
