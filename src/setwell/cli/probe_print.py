"""A judged probe log, for people and as JSON."""

from typing import Any

import typer

from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.probe_words import HYDRATES, RULINGS, margin_told, phase_told
from setwell.domain.log_reading import LogDoubt, LogTable
from setwell.domain.probe_log import ProbeLog
from setwell.services.probe_judging import LogJudgement, SafetyCheck, probe_report
from setwell.units import duration_print, temperature_print

_STYLES = {"pass": "", "fail": "bold red", "cannot tell": "yellow"}

_GUESSED = {
    LogDoubt.UNIT: "The unit was guessed: say --unit C or --unit F.",
    LogDoubt.TIME_UNIT: "The unit of the time was guessed: say it with --time, as in seconds.",
    LogDoubt.CLOCK_PARTS: "The time was guessed: say --time hours:minutes:seconds or "
    "--time minutes:seconds.",
    LogDoubt.DATE_ORDER: "The order of the date was guessed: say --time day/month/year or "
    "--time month/day/year.",
}


def judged_print(
    table: LogTable, document: ProbeLog, found: LogJudgement, *, is_json: bool, log_id: int | None
) -> None:
    """Print how a file was read and what it proves."""
    if is_json:
        report = probe_report(table=table, document=document, found=found, log_id=log_id)
        typer.echo(json_text("probe", {"log": report}))
        return
    screen = Screen()
    length = duration_print(_span(found) / 60.0)
    samples = "1 sample" if document.count == 1 else f"{document.count:,} samples over {length}"
    screen.text(f"{document.title}: {samples}", style="bold")
    for probe in found.clean.probes:
        screen.text(_course_told(probe), lead="  - ")
    for note in table.notes:
        screen.text(f"{note.text} {note.action}".strip(), lead="  ? " if note.is_doubt else "  * ")
    for remark in found.clean.remarks:
        screen.text(f"{remark.text} {remark.action}".strip(), lead="  ! ")
    _phases(screen, found)
    _verdicts(screen, found)
    for doubt in table.doubts if found.checks else ():
        text = f"{_GUESSED[doubt]} A verdict that would change with it says “cannot tell”."
        screen.text(text, style="bold red")
    if log_id is not None:
        screen.heading(f"Saved as probe log {log_id}, with the file as it is.")


def _phases(screen: Screen, found: LogJudgement) -> None:
    if found.phases:
        screen.heading("What it went through")
    for phase in found.phases:
        screen.text(phase_told(phase), lead="  - ")


def _verdicts(screen: Screen, found: LogJudgement) -> None:
    if not found.agents and not found.checks:
        screen.heading("No verdict: it takes two samples or more of a probe in the food.")
        return
    screen.heading("What it proves")
    for agent in found.agents:
        screen.text(f"{agent.text}", lead=f"  {HYDRATES[agent.hydrates]}: ")
    _checks(screen, found.law)
    if found.targets:
        screen.heading("Rules for plants, targets and information")
        _checks(screen, found.targets)
    screen.blank()
    screen.text(found.summary)


def _checks(screen: Screen, checks: tuple[SafetyCheck, ...]) -> None:
    for check in checks:
        told = RULINGS[check.ruling]
        screen.text(f"{check.title}: {check.text}", lead=f"  {told}: ", style=_STYLES[check.ruling])
        margin = margin_told(check)
        where = f"{check.section}, {check.edition}"
        screen.text(f"margin {margin}; {where}" if margin else where, lead="        ")
        if check.action:
            screen.text(check.action, lead="        ")


def _course_told(probe: Any) -> str:  # noqa: ANN401 - a cleaned probe of the judgement
    course = probe.course
    if course is None:
        return f"{probe.name}: nothing that can be used"
    low, high = (temperature_print(round(float(one), 1)) for one in
                 (course.celsius.min(), course.celsius.max()))  # fmt: skip
    return f"{probe.name} ({probe.place.value}): {low} to {high}, {len(course.seconds):,} samples"


def _span(found: LogJudgement) -> float:
    ends = [one.course.seconds for one in found.clean.probes if one.course is not None]
    return max((float(one[-1] - one[0]) for one in ends), default=0.0)
