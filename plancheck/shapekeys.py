"""What is wrong with a key and how to mend it: missing, unknown, badly named, or not allowed in a default."""

from __future__ import annotations

from typing import Any

from plancheck.shapefaults import Fault
from plancheck.shapelevels import DEFS, SECTIONS, Level, level_of
from plancheck.shapenear import near
from plancheck.shapesay import cut, examples, found, listed, purpose

Words = tuple[str, str]

_MOST_KEYS = 24
_MOST_OWNERS = 6
_NAME = "1 to 60 characters without blank, slash or comma"
_FIRST_LINES = {
    "plancheck": "begin with  plancheck: 1",
    "parts": "add the section  parts:  with every part of the supply",
}
_KINDS: dict[str, Level] = {
    branch["if"]["properties"]["is"]["const"]: level_of(branch["then"]) for branch in DEFS["part"]["allOf"]
}


def key_words(fault: Fault) -> Words:
    """(what was found, how to mend it) for a fault of a key."""
    if fault.rule == "missing":
        return _missing(fault)
    if fault.rule == "unknown":
        return _unknown(str(fault.path[-1]), fault)
    if fault.rule == "name":
        return _bad_name(fault)
    key = str(fault.path[-1])
    why = {"is": "the kind is the key it stands under", "like": "what parts of a kind have in common is no copy"}
    return f"'{key}' cannot be a default", f"leave it out: {why.get(key, 'each run says its own')}"


def name_trouble(name: str) -> str:
    """What keeps a text from being a name, to follow the name."""
    if not name:
        return "is empty"
    for sign in name:
        if sign in "/,":
            return "holds a slash" if sign == "/" else "holds a comma"
        if sign.isspace() or ord(sign) < 0x20:
            return "holds a blank" if sign == " " else "holds a blank or a control character"
    return f"has {len(name)} characters" if len(name) > 60 else "cannot be a name"


def _missing(fault: Fault) -> Words:
    level, keys = fault.levels[-1], list(fault.said)
    known = level.known()
    says = "has no " + listed([f"'{key}'" for key in keys])
    if keys == ["is"] and fault.path[0] == "parts":
        return says, _which_kind(fault)
    if len(fault.path) == 0:
        return says, listed([_FIRST_LINES[key] for key in keys], "and")
    said = "; ".join(
        f"'{key}', {purpose(level_of(known[key]))}, such as {key}: {examples(level_of(known[key]))}" for key in keys
    )
    return says, f"add {said}{_instead(keys)}"


def _instead(keys: list[str]) -> str:
    if "from" in keys or "to" in keys:
        return "; only a run with  work: removed  has no ends"
    return "; or 'like' with the key of a run that says it" if keys == ["tube"] else ""


def _which_kind(fault: Fault) -> str:
    """How to mend a part that does not say what it is."""
    name = str(fault.path[-1])
    if name in SECTIONS:
        return f"'{name}' is a section of its own: begin it at the left edge; or add 'is', such as is: valve"
    for key, value in fault.value.items():
        if isinstance(value, str) and value in _KINDS:
            return f"write  is: {value}  instead of  {cut(key)}: {value}"
    meant = near(name, _KINDS)
    return f"add 'is' with its kind, such as is: {meant[0] if meant else 'valve'}"


def _unknown(key: str, fault: Fault) -> Words:
    level = fault.levels[-1]
    known = level.known()
    if len(fault.path) == 1:
        return _unknown_section(key, fault.value)
    if fault.path[:-1] == ("defaults", "parts"):
        return f"there is no kind {found(key)}", _nearest_or(key, known, "write a kind of part")
    kind = next((name for name in level.names if name.startswith("kind_")), "")
    shown = f"'{cut(key)}'"
    says = f"{_article(DEFS[kind]['title'].lower())} has no key {shown}" if kind else f"there is no key {shown} here"
    home = _belongs(key, fault, kind)
    asked = near(key, known, only_close=bool(home))
    mend = [f"did you mean {listed(asked)}?"] if asked else []
    mend += home
    if not mend:
        mend = [f"the keys here are {listed(list(known), 'and')}" if len(known) <= _MOST_KEYS else "leave it out"]
    return says, " ".join(mend)


def _unknown_section(key: str, value: Any) -> Words:
    asked = near(key, SECTIONS)
    mend = f"did you mean {listed(asked)}?" if asked else f"the sections are {listed(SECTIONS, 'and')}"
    if isinstance(value, dict) and not asked:
        if "is" in value:
            mend = "a part stands indented below  parts:"
        elif "from" in value or "to" in value:
            mend = "a run stands indented below  runs:"
    return f"there is no section '{cut(key)}'", mend


def _belongs(key: str, fault: Fault, kind: str) -> list[str]:
    """Where the key would be at home: another kind, a group of keys below or above, another section."""
    if kind:
        owners = [name for name, level in _KINDS.items() if key in level.known()]
        if owners:
            more = len(owners) - _MOST_OWNERS
            said = f"{', '.join(owners[:_MOST_OWNERS])} and {more} others" if more > 1 else listed(owners, "and")
            return [f"'{key}' belongs to {said}"]
    below = [name for name, child in fault.levels[-1].known().items() if key in level_of(child).known()]
    if below:
        return [f"'{key}' belongs under {listed(below[:3])}"]
    for depth in range(len(fault.levels) - 2, 1, -1):
        if key in fault.levels[depth].known():
            return [
                f"'{key}' belongs to {cut(fault.path[depth - 1])}, not under {cut(fault.path[-2])}: check the indent"
            ]
    return [f"'{key}' is a section of its own: begin it at the left edge"] if key in SECTIONS else []


def _bad_name(fault: Fault) -> Words:
    name = str(fault.path[-1])
    if "kind" in fault.levels[-1].names or fault.said == ("enum",):
        return f"there is no kind {found(name)}", _nearest_or(name, _KINDS, "write a kind of part")
    better = "-".join(name.replace("/", " ").replace(",", " ").split())
    such = better if better and better != name and len(better) <= 60 and better.isprintable() else "bath-cold"
    return f"the name '{cut(name)}' {name_trouble(name)}", f"a name has {_NAME}, such as {such}"


def _nearest_or(name: str, names: Any, other: str) -> str:
    asked = near(name, names)
    return f"did you mean {listed(asked)}?" if asked else f"{other}: {listed(names)}"


def _article(word: str) -> str:
    return f"an {word}" if word[0] in "aeiou" else f"a {word}"
