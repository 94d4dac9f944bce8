"""One call of `pack`: a plan in, the sheets for permit, inspection, commissioning and owner out, in a folder."""

from __future__ import annotations

import os
import sys
from collections.abc import Mapping
from typing import TYPE_CHECKING

from plancheck.calls import FAILED, NOTHING
from plancheck.record import NamedTuple

if TYPE_CHECKING:
    from plancheck.drawing.svg import Picture
    from plancheck.facts import Facts
    from plancheck.report.data import PlanReport


class Call(NamedTuple):
    """The arguments of `pack`, as said."""

    plan: str
    out: str
    pdf: bool = False
    amend: str | None = None
    today: str = ""


def make_pack(call: Call) -> int:
    """Makes the pack of one plan. Raises Unreadable for a plan, a folder or a browser that cannot be used."""
    from plancheck.drawing.kinds import supply
    from plancheck.flowcalls import facts_in
    from plancheck.folders import check_folder, write_folder
    from plancheck.judging import judged
    from plancheck.pack.allsheets import sheets_of
    from plancheck.pack.blocks import Material
    from plancheck.pack.contents import check_others, contents_of, take_away, write_contents
    from plancheck.pages.packpages import pack_pages
    from plancheck.pages.printing import browser, print_pdf

    if call.pdf:
        browser()  # none on this machine: told before any work is done
    check_folder(call.out)
    facts = facts_in(call.plan, call.today)
    rules, amended, report = judged(facts, call.amend)
    pictures = pictures_of(facts, report)
    sheets = sheets_of(Material(facts, report, rules, amended, pictures))
    files = dict(pack_pages(sheets, report, supply(facts, report, linked=True)))
    files.update({f"drawings/{name}.svg": picture.svg + "\n" for name, picture in pictures.items()})

    earlier = contents_of(call.out)
    check_others(call.out, (*files, *(["pack.pdf"] if call.pdf else ())), earlier)

    def finish(folder: str) -> None:
        if call.pdf:
            print_pdf(os.path.join(folder, "pack.html"), os.path.join(folder, "pack.pdf"))
        write_contents(folder)

    write_folder(call.out, files, finish)
    left = take_away(call.out, earlier)
    if left:
        sys.stderr.write(f"{call.out}: of an earlier pack, changed since and left: {', '.join(left)}\n")
    sys.stdout.write(f"{call.out}: {len(files) + call.pdf} files and their list; begin with pack.{'pdf' if call.pdf else 'html'}\n")
    return FAILED if report.verdict == "failed" else NOTHING


def pictures_of(facts: Facts, report: PlanReport) -> Mapping[str, Picture]:
    """The drawings of a plan by their names."""
    from plancheck.drawing.kinds import all_pictures

    return {picture.name: picture for picture in all_pictures(facts, report)}
