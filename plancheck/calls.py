"""One call of `check`: several plans, one report, the exit number. The highest number wins; every readable plan is told."""

import os
import sys
from collections.abc import Iterator, Sequence

from plancheck.check import check_file
from plancheck.errors import Problem, Unreadable
from plancheck.loader import LoadedRule, all_rules, built_in_ids
from plancheck.record import NamedTuple
from plancheck.report.assemble import Options
from plancheck.report.data import Brief, PlanReport, Result, brief_of
from plancheck.report.unread import unread_text

NOTHING, FINDINGS, UNREADABLE, FAILED = 0, 1, 2, 3
PIPE_WIDTH = 96
FEW = 8
_NUMBERS = {"nothing found": NOTHING, "findings": FINDINGS, "failed": FAILED}
Answer = PlanReport | Unreadable
Outputs = tuple[tuple[str, str | None], ...]
ON_SCREEN: Outputs = (("screen", None),)


class Call(NamedTuple):
    """The arguments of `check`, as said. reports: each FORMAT or FORMAT=FILE; none: on the screen."""

    plans: tuple[str, ...]
    reports: tuple[str, ...] = ()
    out: str | None = None
    only: tuple[str, ...] = ()
    stop_at: str = "correction"
    must_show: tuple[str, ...] = ()
    today: str = ""
    rules: str | None = None
    amend: str | None = None
    waivers: str | None = None
    accepted: str | None = None
    accept: bool = False
    jobs: int = 1


def check_plans(call: Call) -> int:
    """Checks the plans, prints or writes the reports, gives the exit number. Raises Unreadable for a wrong argument."""
    all_ = all_rules(call.rules, () if _is_local(call) else call.only)
    ids = sorted({*built_in_ids(), *(rule.id for rule in all_)})
    _check_names(call, ids)
    rules = tuple(rule for rule in all_ if not call.only or rule.id in call.only)
    check_day(call.today)
    outputs = _outputs(call)
    call, not_opened = _walked(call)
    if outputs != ON_SCREEN:
        from plancheck.outputs import check_outputs

        check_outputs(call, outputs)
    options = Options(call.stop_at, frozenset(call.must_show), frozenset(ids))
    if _is_local(call):
        from plancheck.localcalls import add_local

        add_local(options, call, all_)
    if call.accept:
        from plancheck.localcalls import accept

        options.accepted = accept(call, rules, options)
    screen = Screen() if ON_SCREEN[0] in outputs else None
    result = run_call(call, rules, options, screen, len(outputs) > 1 or screen is None, not_opened)
    if screen is not None:
        screen.end(result.briefs)
    number = result.number
    if outputs != ON_SCREEN:
        from plancheck.outputs import write_outputs

        number = max(number, write_outputs(outputs, result, rules))
    if result.unread:
        sys.stderr.write(unread_text(result.unread, result.more_unread))
    return number


def rules_of(call: Call) -> tuple[LoadedRule, ...]:
    """The rules that a call runs."""
    return tuple(rule for rule in all_rules(call.rules, call.only) if not call.only or rule.id in call.only)


def _is_local(call: Call) -> bool:
    """Whether the call has files of its own that speak of any rule."""
    return bool(call.amend or call.waivers or call.accepted or call.accept)


class Screen:
    """The screen report on standard output, each plan as it is done; in colour on a terminal."""

    def __init__(self) -> None:
        self._begun = False
        self._width = _columns()
        self._console = None
        if sys.stdout.isatty():
            from rich.console import Console

            self._console = Console(highlight=False, markup=False, emoji=False)

    def show(self, report: PlanReport) -> None:
        """Prints one plan."""
        if self._console is not None:
            from plancheck.report.colour import print_colour

            if self._begun:
                self._console.print("\n")
            print_colour(report, self._console, min(self._console.width, 110))
        else:
            from plancheck.report.plain import plain_text

            sys.stdout.write(("\n\n" if self._begun else "") + plain_text(report, self._width))
        self._begun = True

    def end(self, briefs: Sequence[Brief]) -> None:
        """Prints the summary of several plans."""
        if len(briefs) < 2:
            return
        from plancheck.report.summary import summary_page, summary_text

        if self._console is not None:
            from plancheck.report.colour import print_lines

            width = min(self._console.width, 110)
            self._console.print("\n" if self._begun else "", end="\n" if self._begun else "")
            print_lines(summary_page(briefs, width).lines, self._console)
        else:
            sys.stdout.write(("\n\n" if self._begun else "") + summary_text(briefs, self._width))


def run_call(
    call: Call,
    rules: tuple[LoadedRule, ...],
    options: Options,
    screen: Screen | None = None,
    keep: bool = True,
    not_opened: tuple[Problem, ...] = (),
) -> Result:
    """Checks every plan of the call with the rules. screen: prints each as it is done; keep: whether to keep the reports.

    not_opened: what kept plans from being found at all.
    """
    reports: list[PlanReport] = []
    briefs: list[Brief] = []
    unread = list(not_opened)
    more, number = 0, UNREADABLE if not_opened else NOTHING
    for file, answer in zip(call.plans, _answers(call, rules, options, screen), strict=True):
        if isinstance(answer, Unreadable):
            unread.extend(answer.problems)
            more += answer.more
            briefs.append(Brief(file, "unreadable", {}, {}))
            number = max(number, UNREADABLE)
            continue
        if screen is not None:
            screen.show(answer)
        if keep:
            reports.append(answer)
        briefs.append(brief_of(answer))
        number = max(number, _NUMBERS[answer.verdict])
    decided = (options.stop_at, options.must_show)
    return Result(tuple(reports), tuple(unread), more, number, tuple(briefs), *decided)


def _answers(call: Call, rules: tuple[LoadedRule, ...], options: Options, screen: Screen | None) -> Iterator[Answer]:
    """The report on each plan, or why there is none, in their order."""
    if len(call.plans) > FEW:
        import gc

        gc.enable()  # left off for a short run
    answers = _one_by_one(call, rules, options)
    if call.jobs > 1 and len(call.plans) > 1:
        from plancheck.many import answers_of

        answers = answers_of(call, options)
    if len(call.plans) > 1 and sys.stderr.isatty() and (screen is None or not sys.stdout.isatty()):
        from plancheck.progress import metered

        return metered(answers, len(call.plans))
    return answers


def _one_by_one(call: Call, rules: tuple[LoadedRule, ...], options: Options) -> Iterator[Answer]:
    for file in call.plans:
        try:
            yield check_file(file, call.today, rules, options)
        except Unreadable as wrong:
            yield wrong


def _outputs(call: Call) -> Outputs:
    """Format and file of each report. Most calls print one on the screen: that takes no look."""
    if not call.reports and call.out is None:
        return ON_SCREEN
    from plancheck.report.formats import outputs_of

    return outputs_of(call.reports, call.out)


def _walked(call: Call) -> tuple[Call, tuple[Problem, ...]]:
    """The call with the plans of its folders in their place, and the folders that gave none."""
    if not any(map(os.path.isdir, call.plans)):
        return call, ()
    from plancheck.walking import walk

    walked = walk(call.plans)
    sys.stderr.write(walked.skipped)
    return call._replace(plans=walked.plans), walked.problems


def _check_names(call: Call, ids: Sequence[str]) -> None:
    for name in (*call.only, *(name for name in call.must_show if name != "all")):
        if name not in ids:
            raise Unreadable((Problem("the command line", 0, 0, f"there is no rule '{name}'", _near(name, ids)),))


def _near(name: str, ids: Sequence[str]) -> str:
    from plancheck.building.notes import nearest

    return f"{nearest(name, ids)}plancheck rules lists them"


def check_day(today: str) -> None:
    from plancheck.building.values import BadValue, date

    try:
        if not today.isascii() or today[4::3] != "--":
            raise BadValue(((), f"'{today}' is no day of the calendar", "write year-month-day, such as 2026-04-02"))
        date(today)
    except BadValue as wrong:
        _, says, mend = wrong.bad[0]
        raise Unreadable((Problem("--today", 0, 0, says, mend),)) from None


def is_same(one: str, other: str) -> bool:
    """Whether two names are of one file."""
    try:
        return os.path.samefile(one, other)
    except (OSError, ValueError):  # one of the two is not there, or no name of a file at all
        return os.path.realpath(one) == os.path.realpath(other) if "\0" not in one + other else False


def _columns() -> int:
    said = os.environ.get("COLUMNS", "")
    return max(40, min(int(said), 200)) if said.isdigit() else PIPE_WIDTH


def write_whole(file: str, text: str, what: str = "the report") -> None:
    """Writes the file whole or not at all. Raises Unreadable."""
    from plancheck.writing import write_all

    write_all(((file, text),), what)
