"""What the plan did not show, as the shortest set of keys to add: one line a key, said once in the defaults if it can be."""

from plancheck.record import NamedTuple
from plancheck.report.data import Missing

_SHOWN = 4


class _Wish(NamedTuple):
    section: str
    key: str
    says: str


def wishes(missing: tuple[Missing, ...]) -> list[str]:
    """One sentence for each key that is missing, the one that would let most be checked first."""
    grouped: dict[_Wish, dict[str, None]] = {}
    counts: dict[_Wish, int] = {}
    rules: dict[_Wish, dict[str, None]] = {}
    for one in missing:
        wish, name = _wish(one)
        grouped.setdefault(wish, {})[name] = None
        counts[wish] = counts.get(wish, 0) + 1
        rules.setdefault(wish, {})[one.rule] = None
    order = sorted(counts, key=lambda wish: (-counts[wish], wish))
    return [_sentence(wish, list(grouped[wish]), counts[wish], list(rules[wish])) for wish in order]


def _wish(one: Missing) -> tuple[_Wish, str]:
    """What is wished for, and of which thing."""
    steps = one.needs.strip("/").split("/")
    if len(steps) == 5 and steps[2] == "ports":
        return _Wish("ports", steps[4], one.says), f"{steps[1]}/{steps[3]}"
    key = "/".join(steps[2:]) if len(steps) > 2 else ""
    return _Wish(steps[0], key, one.says), steps[1] if len(steps) > 1 else steps[0]


def _sentence(wish: _Wish, names: list[str], count: int, rules: list[str]) -> str:
    subjects = "1 subject" if count == 1 else f"{count} subjects"
    by = f"{subjects} of {', '.join(rules)}"
    if not wish.section:
        return f"{wish.says} ({by})"
    if not wish.key:
        where = f"{wish.section}.{names[0]}" if names != [wish.section] else wish.section
        return f"{where}: {wish.says} ({by})"
    shown = ", ".join(names[:_SHOWN]) + (f" and {len(names) - _SHOWN} more" if len(names) > _SHOWN else "")
    key = wish.key.replace("/", ".")
    if wish.section in ("runs", "parts", "ports") and len(names) > 1:
        return f"{key} of {wish.section} {shown}: {wish.says}; may be said once under defaults.{wish.section} ({by})"
    if wish.section == "ports":
        return f"{key} of port {shown}: {wish.says} ({by})"
    return f"{wish.section}.{shown}.{key}: {wish.says} ({by})"
