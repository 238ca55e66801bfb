"""Texture readings, lot checks and what they move, for people and as JSON."""

from collections.abc import Iterable

import typer

from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.amounts import estimate_text, range_text
from setwell.documents.measurement_words import check_told, reading_told, us_beside
from setwell.domain.texture_reading import LotTest
from setwell.errors import InputError
from setwell.provenance import Estimate
from setwell.services.formulas import VersionDetail
from setwell.services.lot_checks import lot_check_guide, lot_check_list
from setwell.services.results import LotReport, QuantityRow, TextureDispute
from setwell.services.texture_calibration import before_after, corrections_for
from setwell.services.texture_readings import texture_reading_get, texture_reading_list


def recorded_print(version: VersionDetail, ids: list[int]) -> None:
    """Print what was recorded, and what is in conflict with it or why it moves nothing."""
    summary, screen = version.summary, Screen()
    for one in ids:
        told = reading_told(texture_reading_get(id=one).document)
        screen.text(f"Recorded as {one}: {told}, of {summary.title}, version {summary.number}.")
    found = corrections_for(
        formula=version.formula, formula_id=summary.formula_id, number=summary.number
    )
    uses = [use for use in found.readings if not use.is_lot_check and use.id in ids]
    if not uses:
        screen.text("It is kept but moves no number: there is no texture agent in this version.")
    for remark in dict.fromkeys(use.remark for use in uses if use.remark and not use.is_counted):
        screen.text(remark)
    _disputes(screen, found.disputes)


def list_print(*, is_json: bool) -> None:
    """Print all readings and checks, the newest of each first."""
    readings, checks = texture_reading_list(), lot_check_list()
    if is_json:
        typer.echo(json_text("measurements", {"readings": readings, "lot_checks": checks}))
        return
    screen = Screen()
    if not readings and not checks:
        screen.text("Nothing was measured yet.")
    if readings:
        screen.heading("Texture readings")
        rows = [
            (str(row.id), f"{row.title}, version {row.number}", reading_told(row.document),
             _counts(counts=row.counts, reason=row.reason))
            for row in readings
        ]  # fmt: skip
        screen.table(("id", "of", "reading", "counts"), rows, right=(0,))
    if checks:
        screen.heading("Lot checks")
        rows = [
            (str(row.id), f"{row.document.agent} {row.document.lot_code}".strip(),
             check_told(row.document), _counts(counts=row.counts, reason=row.reason))
            for row in checks
        ]  # fmt: skip
        screen.table(("id", "of", "check", "counts"), rows, right=(0,))


def formula_print(version: VersionDetail, *, is_json: bool) -> None:
    """Print what measurements move in a version, before and after."""
    formula, summary = version.formula, version.summary
    rows = before_after(formula=formula, formula_id=summary.formula_id, number=summary.number)
    found = corrections_for(formula=formula, formula_id=summary.formula_id, number=summary.number)
    disputes = found.disputes
    if is_json:
        typer.echo(json_text("before-after", {"quantities": rows, "disputes": disputes}))
        return
    screen = Screen()
    screen.text(f"{version.summary.title}, version {version.summary.number}", style="bold")
    if not rows:
        screen.text("No own measurement moves a number of it yet.")
    _rows(screen, rows)
    _disputes(screen, disputes)


def lot_print(report: LotReport, *, is_json: bool) -> None:
    """Print how strong a lot is, and on what that rests."""
    if is_json:
        typer.echo(json_text("lot-report", {"lot": report}))
        return
    screen = Screen()
    screen.text(f"{report.agent_name}, lot {report.lot_code or 'not named'}", style="bold")
    screen.text(report.sentence)
    if report.beside_sentence:
        screen.text(report.beside_sentence)
    if report.advice is not None and report.of_lot and not report.disputes:
        screen.text(report.advice.sentence)
    for flag in report.flags:
        screen.text(f"The powder is {flag}.")
    if report.last_answer is not None:
        screen.text(f"{report.last_answer.meaning} {report.last_answer.action}")
    _rows(screen, report.rows)
    _disputes(screen, report.disputes)


def guide_print(agent: str, test: str) -> None:
    """Print how to do a test of a powder."""
    if test not in set(LotTest):
        offer = ", ".join(one.value for one in LotTest)
        raise InputError(f"There is no test “{test}”.", field="kind", hint=f"Tests: {offer}.")
    guide, screen = lot_check_guide(agent=agent, kind=LotTest(test)), Screen()
    screen.text(f"{guide.title}: {guide.agent_name}", style="bold")
    for amount in guide.amounts:
        screen.text(us_beside(amount), lead="  - ")
    for place, step in enumerate(guide.steps, start=1):
        screen.text(us_beside(step), lead=f"  {place}. ")
    screen.text(us_beside(guide.look_for), lead="Look for: ")
    for answer in guide.answers:
        screen.text(us_beside(f"{answer.meaning} {answer.action}"), lead="  * ")
    screen.text(guide.caution)


def _rows(screen: Screen, rows: Iterable[QuantityRow]) -> None:
    for row in rows:
        screen.heading(f"{row.agent_name}: {row.label}")
        screen.text(_number(row.computed or row.prior), lead="  tables only  ")
        screen.text(_number(row.calibrated or row.posterior), lead="  now          ")
        disputed = "; disputed" if row.is_disputed else ""
        screen.text(f"{row.rests_on}{disputed}", lead="  rests on     ")


def _number(estimate: Estimate) -> str:
    reach = range_text(estimate)
    return f"{estimate_text(estimate)} ({reach})" if reach else estimate_text(estimate)


def _disputes(screen: Screen, disputes: Iterable[TextureDispute]) -> None:
    for dispute in disputes:
        screen.heading("In dispute")
        for use in dispute.readings:
            option = " --lot-check" if use.is_lot_check else ""
            screen.text(f"{use.words}; setwell measure set-aside {use.id}{option}", lead="  - ")
        screen.text(f"{dispute.apart} {dispute.action}".strip())


def _counts(*, counts: bool, reason: str) -> str:
    return "yes" if counts else f"set aside: {reason}"
