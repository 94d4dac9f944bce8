"""What is said of bad plans: where each fault is (the mark stands before it) and the words that must come."""

from __future__ import annotations

import pytest

from tests.shape.reading import marked, problems

PARTS = "plancheck: 1\nparts:\n  "
RUN = "plancheck: 1\nparts: {}\nruns:\n  a: {from: b, to: c, tube: d, "
NEXT = "plancheck: 1\nparts: {}\n"

# a name; a plan with a mark before the fault; words of the sentence and of the mend
CASES = {
    # the plan as a whole
    "no version": ("§parts: {}\n", ["the plan has no 'plancheck'", "plancheck: 1"]),
    "no parts": ("§plancheck: 1\n", ["the plan has no 'parts'", "parts:"]),
    "neither": ("§job: {title: x}\n", ["has no 'plancheck' or 'parts'"]),
    "another version": ("plancheck: §2\nparts: {}\n", ["plancheck: 2 is not a version", "plancheck: 1"]),
    "version as text": ('plancheck: §"1"\nparts: {}\n', ["text here", "without quotes"]),
    "version with a point": ("plancheck: §1.1\nparts: {}\n", ["1.1 is not a version"]),
    "misspelt section": (NEXT + "§run: {}\n", ["no section 'run'", "did you mean runs?"]),
    "misspelt parts": ("plancheck: 1\n§part: {}\n", ["no section 'part'", "did you mean parts?"]),
    "section nobody knows": (NEXT + "§extras: none\n", ["no section 'extras'", "places", "waivers"]),
    "a part at the left edge": (NEXT + "§main: {is: valve}\n", ["no section 'main'", "indented below  parts:"]),
    "a run at the left edge": (NEXT + "§up: {from: a, to: b}\n", ["no section 'up'", "indented below  runs:"]),
    "parts as a list": ("plancheck: 1\nparts: §[{is: valve}]\n", ["parts: a list cannot stand", "names with what"]),
    "parts as a word": ("plancheck: 1\nparts: §none\n", ["parts: 'none' cannot stand", "{street: {is: source}}"]),
    "runs as a number": (NEXT + "runs: §3\n", ["runs: 3 cannot stand"]),
    # job, code, permit, water
    "job key": (NEXT + "job: {§titel: x}\n", ["job: there is no key 'titel'", "did you mean title?"]),
    "job stage": (
        NEXT + "job: {stage: §rough}\n",
        ["job, stage: 'rough' means nothing", "did you mean rough-in?", "layout, rough-in, finished or not known"],
    ),
    "job by a number": (NEXT + "job: {by: §4.5}\n", ["4.5 is not text", "put it in quotes"]),
    "job empty": (NEXT + "job: §{}\n", ["a group without keys", "title, stage"]),
    "job as text": (NEXT + "job: §re-pipe\n", ["'re-pipe' cannot stand here", "its keys (title, stage"]),
    "date dotted": (NEXT + "job: {date: §02.04.2026}\n", ["'02.04.2026' is no day", "2026-02-04 or 2026-04-02"]),
    "date short": (NEXT + "job: {date: §2026-4-2}\n", ["is no day", "did you mean 2026-04-02?"]),
    "date that can be read one way": (NEXT + "job: {date: §25/4/2026}\n", ["did you mean 2026-04-25?"]),
    "date in words": (NEXT + "job: {date: §2nd of April}\n", ["is no day", "year-month-day, such as 2026-04-02"]),
    "year alone": (NEXT + "job: {date: §2026}\n", ["2026 cannot stand here", "year-month-day"]),
    "code family": (NEXT + "code: {family: §IRC}\n", ["'IRC' means nothing", "did you mean irc?"]),
    "code edition": (NEXT + 'code: {edition: §"21"}\n', ["code, edition: '21'", "2021 (the year of the edition)"]),
    "permit kind": (NEXT + "permit: {fixtures: {§lavatry: 1}}\n", ["no kind 'lavatry'", "did you mean lavatory?"]),
    "permit kind nobody knows": (NEXT + "permit: {fixtures: {§wc: 1}}\n", ["no kind 'wc'", "toilet", "bidet"]),
    "permit count in words": (
        NEXT + "permit: {fixtures: {toilet: §two}}\n",
        ["'two' is not a whole number", "such as 3"],
    ),
    "permit count broken": (NEXT + "permit: {fixtures: {toilet: §2.5}}\n", ["2.5 is not a whole number"]),
    "permit count below": (NEXT + "permit: {fixtures: {toilet: §-1}}\n", ["-1 is below 0"]),
    "permit number": (NEXT + "permit: {number: §[3]}\n", ["permit, number: a list", "leave out the square brackets"]),
    "water as text": (NEXT + "water: §72 psi\n", ["water: '72 psi' cannot stand", "gauge, static"]),
    "pressure without unit": (NEXT + "water: {static: §72}\n", ["72 has no unit", "72 psi or 72 bar? write the unit"]),
    "temperature without unit": (NEXT + "water: {coldest: §45}\n", ["45 degF or 45 degC?"]),
    "flow without unit": (NEXT + "water: {flowing: {flow: §8}}\n", ["water, flowing, flow: 8 has no unit", "8 gpm"]),
    # places, tubes
    "place kind": (NEXT + "places: {a: {is: §rom}}\n", ["place a, is: 'rom'", "did you mean room?"]),
    "place name with a blank": (NEXT + "places: {§my room: {}}\n", ["the name 'my room' holds a blank", "my-room"]),
    "place name with a slash": (NEXT + "places: {§a/b: {}}\n", ["holds a slash", "a-b"]),
    "place name with a comma": (NEXT + 'places: {§"a,b": {}}\n', ["holds a comma"]),
    "place name empty": (NEXT + 'places: {§"": {}}\n', ["is empty", "1 to 60 characters"]),
    "place name of 61": (NEXT + f"places: {{§{'x' * 61}: {{}}}}\n", ["has 61 characters"]),
    "yes as text": (NEXT + 'places: {a: {freezes: §"yes"}}\n', ["'yes' is text here", "write true without quotes"]),
    "false as text": (NEXT + 'places: {a: {freezes: §"false"}}\n', ["write false without quotes"]),
    "yes as a number": (NEXT + "places: {a: {freezes: §1}}\n", ["1 cannot stand here", "true, false or not known"]),
    "level below without unit": (NEXT + "places: {a: {level: §-3}}\n", ["-3 has no unit", "-3 in or -3 ft?"]),
    "frost as true": (NEXT + "places: {a: {frost: §true}}\n", ["true cannot stand here", "a length with its unit"]),
    "a place as a list": (NEXT + "places: {a: §[x]}\n", ["place a: a list cannot stand", "its keys (is, name"]),
    "tube material": (NEXT + "tubes: {a: {material: §pexb}}\n", ["'pexb' means nothing", "did you mean PEX-B?"]),
    "tube colour key": (
        NEXT + "tubes: {a: {§color: red}}\n",
        ["tube a: there is no key 'color'", "did you mean colour?"],
    ),
    "tube colour": (NEXT + "tubes: {a: {colour: §rde}}\n", ["tube a, colour: 'rde'", "red"]),
    "tube size": (NEXT + "tubes: {a: {size: §[3/4]}}\n", ["a list", "a nominal size, such as 3/4"]),
    "print as text": (NEXT + "tubes: {a: {print: §NSF-pw}}\n", ["stands where a list belongs", "[NSF-pw]"]),
    "nothing printed": (NEXT + "tubes: {a: {print: §[]}}\n", ["an empty list", "none", "leave the key out"]),
    "print none in other words": (NEXT + "tubes: {a: {print: §None}}\n", ["did you mean none?"]),
    "sun": (NEXT + "tubes: {a: {sun: {from: §spring}}}\n", ["tube a, sun, from: 'spring' is no day"]),
    "tube as text": (NEXT + "tubes: {a: §PEX}\n", ["tube a: 'PEX' cannot stand", "like, material"]),
    # defaults
    "defaults key": (NEXT + "defaults: {§part: {}}\n", ["defaults: there is no key 'part'", "did you mean parts?"]),
    "default of no kind": (NEXT + "defaults: {parts: {§valv: {}}}\n", ["no kind 'valv'", "did you mean valve?"]),
    "a wrong kind tells no more": (NEXT + "defaults: {parts: {§valv: {is: 3}}}\n", ["no kind 'valv'"]),
    "default with its kind": (
        NEXT + "defaults: {parts: {valve: {§is: valve}}}\n",
        ["'is' cannot be a default", "kind"],
    ),
    "default that copies": (NEXT + "defaults: {parts: {valve: {§like: 3}}}\n", ["'like' cannot be a default"]),
    "default run with an end": (NEXT + "defaults: {runs: {red: {§to: 3}}}\n", ["'to' cannot be a default", "its own"]),
    "default run joint": (NEXT + "defaults: {runs: {red: {joint: §glue}}}\n", ["defaults, runs, red, joint: 'glue'"]),
    "default port": (
        NEXT + "defaults: {ports: {valve: §bal}}\n",
        ["defaults, ports, valve: 'bal'", "did you mean ball?"],
    ),
    # parts
    "no kind": (PARTS + "§a: {place: cellar}\n", ["part a has no 'is'", "is: valve"]),
    "no kind, but a kind's name": (PARTS + "§shower: {place: bath}\n", ["has no 'is'", "is: shower"]),
    "kind under another key": (PARTS + "§a: {kind: valve}\n", ["has no 'is'", "is: valve  instead of  kind: valve"]),
    "a section among the parts": (PARTS + "§runs: {a: {from: b}}\n", ["part runs has no 'is'", "section of its own"]),
    "wrong kind": (PARTS + "a: {is: §lavatry, foo: 1}\n", ["no kind 'lavatry'", "did you mean lavatory?"]),
    "kind with a dash": (PARTS + "a: {is: §kitchen_sink}\n", ["did you mean kitchen sink?"]),
    "half a kind": (PARTS + "a: {is: §softner}\n", ["did you mean softener?"]),
    "kind not known": (PARTS + "a: {is: §not known}\n", ["no kind 'not known'", "one of source, meter"]),
    "part as its kind": (PARTS + "a: §valve\n", ["part a: 'valve' cannot stand", "write {is: valve}"]),
    "key of other kinds": (
        PARTS + "a: {is: valve, §set: 60 psi}\n",
        ["a valve has no key 'set'", "'set' belongs to regulator, water heater and mixing valve"],
    ),
    "key of an ice maker": (
        PARTS + "a: {is: ice maker, §flush: 1 gal}\n",
        ["an ice maker has no key 'flush'", "toilet"],
    ),
    "key of no kind": (
        PARTS + "a: {is: tee, §material: brass}\n",
        ["a tee has no key 'material'", "the keys here are is, name"],
    ),
    "misspelt key": (PARTS + "a: {is: valve, §stile: ball}\n", ["did you mean style?"]),
    "key with another case": (PARTS + "a: {is: valve, §Place: hall}\n", ["no key 'Place'", "did you mean place?"]),
    "supply key": (
        PARTS + "a: {is: toilet, supply: {§stp: angle}}\n",
        ["part a, supply: there is no key 'stp'", "stop?"],
    ),
    "key one level too deep": (
        PARTS + "a: {is: shower, supply: {stop: none, §head: 2 gpm}}\n",
        ["no key 'head'", "belongs to a, not under supply"],
    ),
    "key one level too high": (PARTS + "a: {is: shower, §stub: nipple}\n", ["'stub' belongs under", "supply"]),
    "label true": (PARTS + "a: {is: valve, label: §true}\n", ["part a, label: true is not text", "put it in quotes"]),
    "reach": (
        PARTS + "a: {is: valve, reach: §closet}\n",
        ["'closet' cannot stand", "open, panel with its size, or none"],
    ),
    "arrestor as text": (PARTS + 'a: {is: ice maker, arrestor: §"true"}\n', ["write true without quotes"]),
    "onto with two slashes": (PARTS + "a: {is: valve, onto: §b/c/d}\n", ["has more than one slash"]),
    "point of two": (
        PARTS + "a: {is: tee, at: §[1 ft, 2 ft]}\n",
        ["2 entries stand here where 3 belong", "east, north and up"],
    ),
    "point of four": (PARTS + "a: {is: tee, at: §[1 ft, 0, 0, 0]}\n", ["4 entries stand here where 3 belong"]),
    "point without unit": (PARTS + "a: {is: tee, at: [1 ft, §4, 0]}\n", ["part a, at, north: 4 has no unit"]),
    "port name": (
        PARTS + "a: {is: manifold, ports: {§A B: {}}}\n",
        ["part a, ports: the name 'A B' holds a blank", "A-B"],
    ),
    "port use": (
        PARTS + "a: {is: manifold, ports: {A: {use: §sparee}}}\n",
        ["part a, ports, A, use: 'sparee'", "spare?"],
    ),
    "port order": (PARTS + "a: {is: manifold, order: [A, §B C]}\n", ["part a, order, entry 2: 'B C' holds a blank"]),
    "set without unit": (PARTS + "a: {is: water heater, set: §120}\n", ["120 degF or 120 degC?"]),
    "input without unit": (PARTS + "a: {is: water heater, input: §40000}\n", ["40000 Btu/h or 40000 W?"]),
    "volume without unit": (PARTS + "a: {is: water heater, volume: §40}\n", ["40 gal or 40 L?"]),
    "relief without keys": (
        PARTS + "a: {is: water heater, relief: §{}}\n",
        ["a group without keys", "pressure, temperature"],
    ),
    "relief pipe": (
        PARTS + "a: {is: water heater, relief: {discharge: {to: §sink}}}\n",
        ["part a, relief, discharge, to: 'sink'", "floor drain"],
    ),
    "blank text": (PARTS + 'a: {is: manifold, bore: §" "}\n', ["a blank text", "a length with its unit"]),
    "empty word": (PARTS + 'a: {is: valve, style: §""}\n', ["a blank text", "leave the key out"]),
    "text too long": (PARTS + f"a: {{is: valve, standard: §{'x' * 61}}}\n", ["has 61 characters", "at most 60"]),
    "control characters": (PARTS + 'a: {is: valve, style: §"b\\e[2J"}\n', ["'b\\x1b[2J' means nothing"]),
    "reading direction": (PARTS + 'a: {is: valve, style: §"b\\u202Ex"}\n', ["'b\\u202ex' means nothing"]),
    # heat
    "hot thing": (NEXT + "heat: {a: {is: §chimney}}\n", ["hot thing a, is: 'chimney'", "single-wall vent"]),
    "hot thing without kind": (
        NEXT + "heat: {§a: {size: 4 in}}\n",
        ["hot thing a has no 'is'", "what gives off the heat"],
    ),
    "heat as text": (NEXT + "heat: §nothing\n", ["heat: 'nothing' cannot stand", "none"]),
    # runs
    "no end": (
        "plancheck: 1\nparts: {}\nruns:\n  §bath-cold: {from: a, tube: b}\n",
        ["run bath-cold has no 'to'", "the connection it ends at, such as to: tub/cold", "work: removed"],
    ),
    "no tube": ("plancheck: 1\nparts: {}\nruns:\n  §a: {from: a, to: b}\n", ["run a has no 'tube'", "'like'"]),
    "nothing at all": ("plancheck: 1\nparts: {}\nruns:\n  §a: {}\n", ["has no 'from', 'to' or 'tube'"]),
    "misspelt end": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {§form: x, to: b, tube: c}\n",
        ["no key 'form'", "did you mean from?"],
    ),
    "removed misspelt": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {work: §removd}\n",
        ["'removd'", "did you mean removed?"],
    ),
    "end with a blank": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {from: §my tee, to: b, tube: c}\n",
        ["'my tee' holds a blank"],
    ),
    "end without side": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {from: §b/, to: b, tube: c}\n",
        ["nothing after its slash"],
    ),
    "end without part": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {from: §/b, to: b, tube: c}\n",
        ["nothing before its slash"],
    ),
    "end not known": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {from: §not known, to: b, tube: c}\n",
        ["'not known' cannot stand"],
    ),
    "tube as a number": (
        "plancheck: 1\nparts: {}\nruns:\n  a: {from: b, to: c, tube: §12}\n",
        ["12 is not text", "if 12 is meant, put it in quotes"],
    ),
    "length without unit": (
        RUN + "length: §24}\n",
        ["run a, length: 24 has no unit", "24 in or 24 ft? write the unit"],
    ),
    "length as a list": (RUN + "length: §[24 ft]}\n", ["a list cannot stand here", "leave out the square brackets"]),
    "suports": (RUN + "§suports: none}\n", ["run a: there is no key 'suports'", "did you mean supports?"]),
    "every outside supports": (RUN + "§every: 3 ft}\n", ["no key 'every'", "'every' belongs under supports"]),
    "supports every": (
        RUN + "supports: {every: §{a: 1}}}\n",
        ["run a, supports, every: a group of keys cannot stand", "30 in (the largest gap between two supports)"],
    ),
    "supports as a list": (RUN + "supports: §[30 in]}\n", ["run a, supports: a list cannot stand", "kind, every"]),
    "run's key in supports": (
        RUN + "supports: {kind: none, §rise: 3 ft}}\n",
        ["'rise' belongs to a, not under supports"],
    ),
    "supports kind": (
        RUN + "supports: {kind: §metal clamp}}\n",
        ["run a, supports, kind: 'metal clamp'", "did you mean"],
    ),
    "guides": (RUN + "supports: {guides: §[]}}\n", ["run a, supports, guides: an empty list"]),
    "joint": (RUN + "joint: §crimp}\n", ["'crimp' means nothing", "did you mean copper crimp ring?"]),
    "joint apart": (RUN + "joint: {§frm: press}}\n", ["run a, joint: there is no key 'frm'", "did you mean from?"]),
    "joint empty": (RUN + "joint: §{}}\n", ["a group without keys", "from or to"]),
    "path as text": (RUN + "path: §up 3 ft}\n", ["'up 3 ft' stands where a list belongs", "[up 3 ft]"]),
    "path empty": (RUN + "path: §[]}\n", ["an empty list cannot stand here"]),
    "leg as a number": (RUN + "path: [up 1 ft, §3]}\n", ["run a, path, entry 2: 3 cannot stand", "a leg, or a point"]),
    "point in a path": (RUN + "path: [[0, 0, §true]]}\n", ["run a, path, entry 1, up: true cannot stand"]),
    "bend": (RUN + "bends: [{radius: §5}]}\n", ["run a, bends, entry 1, radius: 5 has no unit"]),
    "bend support": (RUN + "bends: {support: §strap}}\n", ["run a, bends, support: 'strap'", "strap both sides"]),
    "fished once": (RUN + "fished: §[2 ft]}\n", ["1 entry stands here where 2 belong", "[4 ft, 16 ft]"]),
    "along without kind": (RUN + "along: [§{at: 3 ft}]}\n", ["run a, along, entry 1 has no 'is'", "coupling"]),
    "along kind": (
        RUN + "along: [{is: §tee}]}\n",
        ["run a, along, entry 1, is: 'tee' means nothing", "coupling, ell, kink"],
    ),
    "pass through nothing": (
        RUN + "passes: [{through: x}, §{hole: 1 in}]}\n",
        ["run a, passes, entry 2 has no 'through'"],
    ),
    "clear": (RUN + "clear: {flue: §8}}\n", ["run a, clear, flue: 8 has no unit"]),
    "clear in a list": (
        RUN + "clear: {flue: [§true]}}\n",
        ["run a, clear, flue, entry 1: true cannot stand", "measure"],
    ),
    "insulation": (RUN + "insulation: §3}\n", ["3 is not text"]),
    "runs in a run": (RUN + "§runs: {}}\n", ["no key 'runs'", "section of its own"]),
    # tests, claims, measured, waivers
    "test medium": (NEXT + "tests: {a: {medium: §wter}}\n", ["test a, medium: 'wter'", "did you mean water?"]),
    "test start": (NEXT + "tests: {a: {start: §100}}\n", ["100 psi or 100 kPa?"]),
    "test held": (NEXT + "tests: {a: {held: §20}}\n", ["20 min or 20 h?"]),
    "test covers": (NEXT + "tests: {a: {covers: §cold}}\n", ["stands where a list belongs", "[cold]"]),
    "test covers nothing there is": (
        NEXT + "tests: {a: {covers: [cold, §warm]}}\n",
        ["test a, covers, entry 2: 'warm'", "hot"],
    ),
    "claim key": (NEXT + "claims: {a: {§say: x}}\n", ["claim a: there is no key 'say'", "did you mean says?"]),
    "claim photo": (NEXT + "claims: {a: {photo: §[a.jpg, b.jpg]}}\n", ["claim a, photo: a list cannot stand"]),
    "measured reads": (
        NEXT + "measured: {a: {reads: §58}}\n",
        ["reading a, reads: 58 has no unit", "58 psi or 58 gpm?"],
    ),
    "measured at": (NEXT + "measured: {a: {at: §3}}\n", ["reading a, at: 3 is not text"]),
    "measured open": (NEXT + "measured: {a: {open: [§a b]}}\n", ["reading a, open, entry 1: 'a b' holds a blank"]),
    "waiver without rule": (
        NEXT + "waivers:\n  - {rule: x, at: /a}\n  - §{at: /a}\n",
        ["waiver 2 has no 'rule'", "name of the rule"],
    ),
    "waiver at": (
        NEXT + "waivers:\n  - {rule: x, at: §runs/a}\n",
        ["waiver 1, at: 'runs/a' does not begin with a slash", "/runs/den-hot"],
    ),
    "waiver until": (NEXT + "waivers: [{rule: x, at: /a, until: §2026}]\n", ["waiver 1, until: 2026 cannot stand"]),
    "waiver as text": (NEXT + "waivers: [§x]\n", ["waiver 1: 'x' cannot stand", "rule, at"]),
    "waivers as keys": (
        NEXT + "waivers: §{a: {rule: x}}\n",
        ["waivers: a group of keys cannot stand", "square brackets"],
    ),
}


@pytest.mark.parametrize(("text", "words"), CASES.values(), ids=CASES.keys())
def test_says_one_thing_at_the_right_place(text: str, words: list[str]) -> None:
    plain, [place] = marked(text)
    [problem] = problems(plain)
    assert (problem.line, problem.column) == place
    assert problem.file == "plan.yaml"
    for fragment in words:
        assert fragment in f"{problem.says} | {problem.mend}"


def test_tells_all_faults_at_once_in_the_order_of_the_file() -> None:
    text, places = marked(
        "plancheck: 1\n§part: {}\n"
        "runs:\n  §up: {from: §a b, tube: c, length: §3}\n  down: {§form: a, to: b, tube: c, §suports: none}\n"
        "places: {§a b: {is: §rom}}\nwaivers:\n  - rule: x\n    at: /a\n  - §rule: y\n"
    )
    found = problems(text)
    assert [(problem.line, problem.column) for problem in found] == places
    assert [problem.says.split(":")[0] for problem in found] == [
        "there is no section 'part'", "run up has no 'to'", "run up, from", "run up, length",
        "run down", "run down", "places", "place a b, is", "waiver 2 has no 'at'",
    ]  # fmt: skip


@pytest.mark.parametrize("text", [
    "plancheck: 1\nparts: {}\n",
    RUN + "length: 0, work: existing}\n",
    PARTS + "street: {is: source}\n",
    NEXT + "heat: none\nwaivers: []\nruns: {}\n",
])  # fmt: skip
def test_says_nothing_of_a_good_plan(text: str) -> None:
    with pytest.raises(AssertionError, match="was taken"):
        problems(text)
