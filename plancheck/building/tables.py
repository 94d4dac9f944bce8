"""Which key of the file goes into which field, and who reads it. One table a record, data only."""

from __future__ import annotations

from plancheck.building import values as v
from plancheck.building.paths import read_clear
from plancheck.model import (
    AdapterOwn,
    Along,
    ArrestorOwn,
    Bend,
    DeviceOwn,
    Discharge,
    FixtureOwn,
    Flowing,
    GaugePortOwn,
    HeaterOwn,
    MeterOwn,
    Mixer,
    MixingOwn,
    Pan,
    Pass,
    PumpOwn,
    RegulatorOwn,
    Relief,
    RestOwn,
    SourceOwn,
    Sun,
    Supply,
    TankOwn,
    ValveOwn,
)


def _plain(*keys: str) -> v.Table:
    return {key: (key, v.same) for key in keys}


def _text(*keys: str) -> v.Table:
    return {key: (key, v.text) for key in keys}


JOB: v.Table = {**_text("title", "stage", "by", "electrode"), "date": ("date", v.date)}
CODE: v.Table = {"family": ("family", v.text), "edition": ("edition", v.same)}
PERMIT: v.Table = {**_text("number"), **_plain("fixtures", "units")}
MATERIALS: v.Table = {"tubes": ("tubes", v.mapping_of(v.length)), **_plain("parts", "joints")}
FLOWING: v.Table = {"pressure": ("pressure", v.PRESSURE), "flow": ("flow", v.FLOW)}
WATER: v.Table = {
    **_text("gauge"),
    "static": ("static", v.PRESSURE),
    "flowing": ("flowing", v.record(Flowing, FLOWING)),
    "coldest": ("coldest", v.TEMPERATURE),
    "date": ("date", v.date),
}
PLACE: v.Table = {
    "is": ("is_", v.text),
    **_text("name", "floor"),
    **_plain("freezes"),
    "level": ("level", v.signed_length),
    "frost": ("frost", v.length),
}
SUN: v.Table = {"from": ("from_", v.date), "to": ("to", v.date)}
TUBE: v.Table = {
    **_text("material", "type", "colour", "form"),
    "size": ("size", v.size),
    "print": ("print", v.texts),
    "sun": ("sun", v.record(Sun, SUN)),
    "outside": ("outside", v.length),
    "wall": ("wall", v.length),
}
TEST: v.Table = {
    **_text("medium", "by", "air_allowed"),
    "covers": ("covers", v.texts),
    "isolated": ("isolated", v.texts),
    "start": ("start", v.PRESSURE),
    "end": ("end", v.PRESSURE),
    "held": ("held", v.DURATION),
    "date": ("date", v.date),
}
CLAIM: v.Table = {
    **_text("says", "by", "photo"),
    "count": ("count_", v.same),
    "covers": ("covers", v.texts),
    "date": ("date", v.date),
}
READING: v.Table = {
    **_text("at", "by", "says"),
    "reads": ("reads", v.pressure_or_flow),
    "open": ("open", v.texts),
    "date": ("date", v.date),
}
WAIVER: v.Table = {**_text("rule", "at", "because", "by", "authority"), "until": ("until", v.date)}

DISCHARGE: v.Table = {
    **_text("material", "to", "shut"),
    **_plain("falls", "fastened"),
    "size": ("size", v.size),
    "end": ("end", v.length),
}
RELIEF: v.Table = {
    "pressure": ("pressure", v.PRESSURE),
    "temperature": ("temperature", v.TEMPERATURE),
    "size": ("size", v.size),
    "capacity": ("capacity", v.POWER),
    "discharge": ("discharge", v.record(Discharge, DISCHARGE)),
}
PAN: v.Table = {**_text("to", "material"), "drain": ("drain", v.size), "depth": ("depth", v.length)}
MIXER: v.Table = {**_text("kind", "standard"), "least": ("least", v.FLOW), "limit": ("limit", v.TEMPERATURE)}
SUPPLY: v.Table = {
    **_text("stub", "stop", "arrestor"),
    "connector": ("connector", v.length),
    "reach": ("reach", v.reach),
}
_SIDE = v.record(Supply, SUPPLY)
FIXTURE: v.Table = {
    **_text("left", "breaker", "thread", "style", "fill", "valve"),
    **_plain("arrestor"),
    "faucet": ("faucet", v.FLOW),
    "head": ("head", v.FLOW),
    "spray": ("spray", v.FLOW),
    "mixer": ("mixer", v.record(Mixer, MIXER)),
    "supply": ("supply", _SIDE),
    "hot": ("hot", _SIDE),
    "cold": ("cold", _SIDE),
    "stem": ("stem", v.length),
    "flush": ("flush", v.VOLUME),
}
REST: v.Table = {**_plain("fixtures"), **_text("serves", "end", "hot"), "draw": ("draw", v.FLOW)}
DEVICE: v.Table = {**_text("standard", "serves", "bypass"), **_plain("check")}
HEATER: v.Table = {
    **_text("style", "fuel", "expansion", "standard"),
    "efficiency": ("efficiency", v.efficiency),
    "volume": ("volume", v.VOLUME),
    "set": ("set", v.TEMPERATURE),
    "input": ("input", v.POWER),
    "relief": ("relief", v.record(Relief, RELIEF)),
    "rated": ("rated", v.PRESSURE),
    "pan": ("pan", v.record(Pan, PAN)),
    "least": ("least", v.FLOW),
    "first-hour": ("first_hour", v.VOLUME),
    "maker_clearance": ("maker_clearance", v.length),
}

OWN: dict[str, tuple[type, v.Table]] = {
    "source": (SourceOwn, {**_text("kind"), **_plain("potable")}),
    "meter": (MeterOwn, _plain("check")),
    "valve": (ValveOwn, {**_text("style", "normally", "drain", "standard"), **_plain("service", "check")}),
    "check valve": (DeviceOwn, DEVICE),
    "regulator": (RegulatorOwn, {**_text("strainer", "gauge_ports"), "set": ("set", v.PRESSURE)}),
    "backflow preventer": (DeviceOwn, DEVICE),
    "filter": (DeviceOwn, DEVICE),
    "softener": (DeviceOwn, DEVICE),
    "pump": (PumpOwn, {**_text("control"), **_plain("hours"), "flow": ("flow", v.FLOW)}),
    "adapter": (AdapterOwn, {**_text("kind"), "length": ("length", v.length)}),
    "water heater": (HeaterOwn, HEATER),
    "mixing valve": (
        MixingOwn,
        {**_text("standard"), "set": ("set", v.TEMPERATURE), "least": ("least", v.FLOW)},
    ),
    "expansion tank": (TankOwn, {"volume": ("volume", v.VOLUME), "precharge": ("precharge", v.PRESSURE)}),
    "arrestor": (ArrestorOwn, _text("letter")),
    "test port": (GaugePortOwn, _text("valve", "normally", "end", "thread")),
    "cap": (RestOwn, REST),
    "stub-out": (RestOwn, REST),
    "rest of house": (RestOwn, REST),
}
PART: v.Table = {
    **_text("place", "work", "joint", "body", "anchor", "label", "name"),
    **_plain("hidden", "ends"),
    "height": ("height", v.signed_length),
    "outlet": ("outlet", v.signed_length),
    "size": ("size", v.part_size),
    "reach": ("reach", v.reach),
}
PORT: v.Table = {
    **_text("use", "label", "valve", "normally", "end", "thread"),
    "reach": ("reach", v.reach),
    "next": ("next", v.length),
}
MANIFOLD: v.Table = {
    **_text("shape", "tube", "row"),
    "bore": ("bore", v.length),
    "spacing": ("spacing", v.length),
}
HOT: v.Table = {
    "is": ("is_", v.text),
    **_text("place", "name"),
    **_plain("insulation_contact"),
    "size": ("size", v.length),
}

BEND: v.Table = {
    **_text("support", "fitting"),
    **_plain("against", "hot"),
    "radius": ("radius", v.length),
}
SUPPORTS: v.Table = {
    **_text("kind"),
    "every": ("every", v.length),
    "risers": ("risers", v.length),
    "ends": ("ends", v.length),
    "at": ("at", v.lengths),
    "guides": ("guides", v.lengths),
}
JOINTS: v.Table = {"from": ("from_", v.text), "to": ("to", v.text)}
ALONG: v.Table = {"is": ("is_", v.text), "at": ("at", v.length), **_plain("hidden"), **_text("says")}
PASS: v.Table = {
    **_text("through", "span", "rated"),
    "count": ("count_", v.same),
    **_plain("plate", "grommet", "sealed", "bearing", "doubled", "open"),
    "at": ("at", v.lengths),
    "hole": ("hole", v.length),
    "edge": ("edge", v.length),
    "notch": ("notch", v.length),
    "sleeve": ("sleeve", v.sleeve),
}
CLEAR = read_clear
RUN: v.Table = {
    **_text("tube", "work", "bundle", "carries", "insulation", "guard", "wrap", "tie", "solder", "tracer", "label"),
    **_text("mirrored"),
    "length": ("length", v.length),
    "upright": ("upright", v.length),
    "cover": ("cover", v.length),
    "places": ("places", v.list_of(v.text)),
    "along": ("along", v.list_of(v.record(Along, ALONG))),
    "passes": ("passes", v.list_of(v.record(Pass, PASS))),
}
_BEND = v.record(Bend, BEND)
EACH_BEND = v.each(_BEND)


def fixture_table(kind: str) -> tuple[type, v.Table]:
    """The record and table of a kind's own keys."""
    return OWN.get(kind, (FixtureOwn, FIXTURE))
