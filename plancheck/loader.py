"""Rule files into rules: the built-in folder and a folder given on the command line, through one loader.

Importing a rule file runs it, so a folder is only ever taken from the command line, never from a plan or found beside it.
"""

import os
import sys
from collections.abc import Callable, Collection, Iterable
from types import ModuleType
from typing import Any

from plancheck.errors import Problem, Unreadable
from plancheck.outcomes import SEVERITIES, STAGES, Outcome, Rule, Subject
from plancheck.record import NamedTuple
from plancheck.words import Words, words_of


class LoadedRule(NamedTuple):
    """A rule ready to run. id is the file's name; words are read from its docstring when asked for."""

    id: str
    rule: Rule
    subjects: Callable[[Any], Iterable[Subject]]
    check: Callable[[Subject, Any, Any], Outcome]
    docstring: str
    file: str

    @property
    def words(self) -> Words:
        """The rule's manual."""
        return words_of(self.docstring)


def built_in_ids() -> list[str]:
    """The ids of the rules that come with plancheck, in order; none is imported."""
    import plancheck.rules

    return _names(next(iter(plancheck.rules.__path__)))


def built_in_rules(only: Collection[str] = ()) -> tuple[LoadedRule, ...]:
    """The rules that come with plancheck, by id; if some are named, those of them, and no other is imported."""
    return tuple(_built_in(name) for name in built_in_ids() if not only or name in only)


def rules_from(folder: str) -> tuple[LoadedRule, ...]:
    """The rules of another folder, by id. Raises Unreadable with every file that is no rule."""
    if not os.path.isdir(folder):
        raise Unreadable((Problem(folder, 0, 0, "there is no such folder of rules", "check the name after --rules"),))
    names = _names(folder)
    if not names:
        raise Unreadable((Problem(folder, 0, 0, "the folder holds no rule files (*.py)", "check the name"),))
    found, problems = [], []
    for name in names:
        file = os.path.join(folder, f"{name}.py")
        try:
            found.append(_with_words(_loaded(name, _import_file(name, file), file)))
        except _NoRule as wrong:
            problems.append(Problem(file, wrong.line, 0, wrong.says, wrong.mend))
    if problems:
        raise Unreadable(tuple(problems))
    return tuple(found)


def all_rules(folder: str | None = None, only: Collection[str] = ()) -> tuple[LoadedRule, ...]:
    """The built-in rules (those named, if some are) and all of the folder, if any, by id.

    Raises Unreadable, also where two have one id.
    """
    found = built_in_rules(only)
    if folder is None:
        return found
    more = rules_from(folder)
    known = {*built_in_ids(), "waiver"}  # under that name a report judges the waivers themselves
    twice = [rule for rule in more if rule.id in known]
    if twice:
        says, mend = f"'{twice[0].id}' is the id of a built-in rule", "give the file another name"
        raise Unreadable((Problem(twice[0].file, 0, 0, says, mend),))
    return tuple(sorted((*found, *more)))


class _NoRule(Exception):
    def __init__(self, says: str, mend: str, line: int = 0) -> None:
        super().__init__(says)
        self.says = says
        self.mend = mend
        self.line = line


def _with_words(rule: LoadedRule) -> LoadedRule:
    """The rule, its words read once (those of built-in rules are held to their form by a test)."""
    try:
        words_of(rule.docstring)
    except ValueError as wrong:
        raise _NoRule(str(wrong), "open the file with the five headings; see DEVELOPERS.md") from None
    return rule


def _names(folder: str) -> list[str]:
    names = (name.removesuffix(".py") for name in os.listdir(folder) if name.endswith(".py"))
    return sorted(name for name in names if not name.startswith(("_", ".")))


def _built_in(name: str) -> LoadedRule:
    module = f"plancheck.rules.{name}"
    __import__(module)
    return _loaded(name, sys.modules[module], str(sys.modules[module].__file__))


def _import_file(name: str, file: str) -> ModuleType:
    from importlib.util import module_from_spec, spec_from_file_location

    if not name.isidentifier():
        raise _NoRule(f"'{name}' cannot be a rule's id", "name the file in plain words joined by _")
    spec = spec_from_file_location(f"plancheck_outside_rules.{name}", file)
    if spec is None or spec.loader is None:
        raise _NoRule("the file cannot be imported", "check the file")
    module = module_from_spec(spec)
    try:
        spec.loader.exec_module(module)
    except SyntaxError as wrong:
        raise _NoRule(f"the file is not Python: {wrong.msg}", "mend that line", wrong.lineno or 0) from None
    except (Exception, SystemExit) as wrong:  # whatever a strange file raises must not end the run in a traceback
        raise _NoRule(f"importing it failed: {type(wrong).__name__}: {wrong}", "mend the rule file") from None
    return module


def _loaded(name: str, module: ModuleType, file: str) -> LoadedRule:
    rule = getattr(module, "RULE", None)
    if not isinstance(rule, Rule):
        raise _NoRule("it has no RULE", "write RULE = Rule(highest=..., stage=..., limits=(...))")
    if rule.highest not in SEVERITIES or rule.stage not in STAGES:
        says = f"RULE says highest={rule.highest!r}, stage={rule.stage!r}"
        raise _NoRule(says, f"highest is one of {', '.join(SEVERITIES)}; stage one of {', '.join(STAGES)}")
    for function in ("subjects", "check"):
        if not callable(getattr(module, function, None)):
            raise _NoRule(f"it has no function {function}", "see the six steps in DEVELOPERS.md")
    if getattr(module, "RULEKIT", 1) != 1:
        raise _NoRule(f"it is written for RULEKIT {module.RULEKIT}; this is RULEKIT 1", "use the matching version")
    docstring = module.__doc__ or ""
    if not docstring.strip():
        raise _NoRule("it has no words", "open it with a title and Looks at / Why / To mend / Cannot see / Ask")
    return LoadedRule(name, rule, module.subjects, module.check, docstring, file)
