"""The tally on the screen: every rule once, a line for those that do not all hold."""

from pathlib import Path

from plancheck.check import check_file
from plancheck.report.plain import plain_text


def test_the_tally_names_every_rule_once_and_lines_those_that_do_not_all_hold() -> None:
    report = check_file(str(Path(__file__).parents[2] / "sample_plans" / "apprentice.plan.yaml"), "2026-05-20")
    text = " ".join(plain_text(report, 96).partition("Tally")[2].partition("Cautions")[0].split())
    rows, _, rest = text.partition("All holds: ")
    held, _, absent = rest.partition("Not in this plan: ")
    for rule, counts in report.tally.items():
        total = sum(counts.values())
        assert (f"{rule} {total} looked at:" in rows) == (counts["holds"] != total)
        assert (f"{rule} {total}" in held) == (0 < total == counts["holds"])
        assert (rule in absent.rstrip(".").split(", ")) == (total == 0)
