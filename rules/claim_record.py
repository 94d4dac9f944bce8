"""Claims name who, when and what was seen

Looks at: each claim of the plan: what it says, who says so, and the day; and the day of each recorded test and gauge reading,
    those of the supply among them.
Why: "all rings gauged" without a name and a day is worth nothing to the inspector, and nothing to the next plumber who has
    to find out which crew made the joint that leaks.
To mend: write what was seen, who saw it and on which day.
Cannot see: whether it is true. A claim is printed as a claim and never counted as checked; a photo is named, not opened, and
    the plan may travel without it.
Ask: nobody asks for claims by code; some inspectors take a dated photo for what is covered.
"""

from collections.abc import Iterator

from plancheck.rulekit import (
    NONE,
    NOT_KNOWN,
    PRACTICE,
    Facts,
    Limit,
    Limits,
    Measured,
    NotShown,
    Outcome,
    Rule,
    Subject,
    Value,
    broken,
    holds,
    on_site,
)

AHEAD = Limit(
    "ahead",
    "the day of a record against today",
    "text",
    "",
    irc=(Value("not ahead of today", PRACTICE),),
    ipc=(Value("not ahead of today", PRACTICE),),
    upc=(Value("not ahead of today", PRACTICE),),
    practice=(Value("not ahead of today", PRACTICE),),
)
RULE = Rule("correction", "rough-in", (AHEAD,))


def subjects(facts: Facts) -> Iterator[Subject]:
    """Two questions for each claim; the day of each test and reading, and of what was read of the supply."""
    plan = facts.plan
    for claim in plan.claims.values():
        path = ("claims", claim.id)
        yield Subject(
            path,
            f"claim {claim.id}",
            None,
            (f"Claim '{claim.id}'", path, claim.date, (("says", claim.says), ("by", claim.by))),
        )
        words = f'claimed: "{claim.says}"' if claim.says not in (None, NOT_KNOWN) else "claimed"
        who = f", by {claim.by}" if claim.by not in (None, NONE, NOT_KNOWN) else ""
        day = f", {claim.date}" if claim.date not in (None, NOT_KNOWN) else ""
        photo = f"; photo {claim.photo} (not opened)" if claim.photo not in (None, NONE, NOT_KNOWN) else ""
        yield Subject(path, f"what {claim.id} says", None, f"{words}{who}{day}{photo}")
    tests = plan.tests if plan.tests is not None and not isinstance(plan.tests, str) else {}
    for test in tests.values():
        thing = (f"Test '{test.id}'", ("tests", test.id), test.date, ())
        yield Subject(("tests", test.id), f"day of test {test.id}", None, thing)
    for one in plan.measured.values():
        path = ("measured", one.id)
        yield Subject(path, f"day of reading {one.id}", None, (f"Reading '{one.id}'", path, one.date, ()))
    water = plan.water
    if any(said not in (None, NONE, NOT_KNOWN) for said in (water.static, water.flowing)):
        read = ("The reading of the supply", ("water",), water.date, ())
        yield Subject(("water",), "day of the supply's reading", None, read)


def check(subject: Subject, facts: Facts, limits: Limits) -> Outcome:
    """Whether a record is signed and dated; what a claim says is for a person."""
    if isinstance(subject.thing, str):
        return on_site(subject.thing)
    name, path, date, signs = subject.thing
    day = date.removeprefix("about ") if date is not None and date not in (NONE, NOT_KNOWN) else None
    if day is not None and day > facts.today:
        return broken(
            f"{name} is dated {day}, which is still to come ({facts.today} today).",
            "correction",
            measured=Measured(day, "text"),
            limit=limits.of(AHEAD) if facts.family is not None else None,  # no code: still no day that is to come
            needed=f"{facts.today} at the latest",
            mend="Write the day it was done.",
            at=(*path, "date"),
        )
    unsigned = [key for key, said in signs if said == NONE]
    if unsigned or date == NONE:
        return broken(
            f"{name} names nobody who saw it." if "by" in unsigned else f"{name} is left empty.",
            "advice",
            found="none",
            needed="what was seen, who saw it, and the day",
            mend="Put the day it was done, and who did it.",
            at=(*path, unsigned[0] if unsigned else "date"),
        )
    for key, said in (*signs, ("date", date)):
        if said is None or said == NOT_KNOWN:
            raise NotShown((*path, key), {"by": "who says so", "says": "what was seen", "date": "the day"}[key])
    return holds("", None, None, date if date.startswith("about ") else "")
