"""Pot, molds and timeline for people, in 80 columns."""

from collections.abc import Iterable

from setwell.cli.screen import Screen
from setwell.documents.amounts import estimate_text, range_text
from setwell.services.process import ProcessAnswer, clock_print, stage_takes, takes_print
from setwell.services.results import Advice, Figure, Moment, SafetyCheck
from setwell.units import duration_print, temperature_print

_STOP = {True: "Stop: ", False: "Note: "}


def heat_print(answer: ProcessAnswer) -> None:
    """Print a pot: its moments, its agents, what is wrong, and the checks of the heating."""
    pot = answer.pot
    if pot is None:
        return
    screen = Screen()
    screen.text(answer.formula.title, style="bold")
    screen.text(pot.regime_text)
    _moments(screen, pot.moments)
    for agent in pot.agents:
        screen.text(agent.text)
    if pot.other is not None:
        _compared(screen, answer)
    screen.text(f"Steam takes {estimate_text(pot.evaporated_g)} of the batch.")
    _advice(screen, pot.advice)
    _figures(screen, pot.figures)
    _checks(screen, answer.checks, "heating")


def cool_print(answer: ProcessAnswer) -> None:
    """Print molds: their moments, how many fit, what is wrong, and the checks of the cooling."""
    cooling = answer.cooling
    if cooling is None:
        return
    screen = Screen()
    screen.text(answer.formula.title, style="bold")
    _moments(screen, cooling.moments)
    if cooling.most_molds is not None:
        screen.text(f"Molds at once in this place: {estimate_text(cooling.most_molds)}.")
    _advice(screen, cooling.advice)
    _figures(screen, cooling.figures)
    screen.text(cooling.method)
    _checks(screen, answer.checks, "cooling")


def schedule_print(answer: ProcessAnswer) -> None:
    """Print the steps over time, the points that decide, and when to start."""
    screen = Screen()
    screen.text(answer.formula.title, style="bold")
    schedule, timeline = answer.schedule, answer.timeline
    if schedule is not None:
        screen.text(f"{schedule.text} {schedule.action}".strip())
    begins = (
        {row.stage.number: clock_print(row.begins) for row in schedule.rows} if schedule else {}
    )
    rows = [
        (
            str(stage.number or ""),
            begins.get(stage.number, duration_print(float(round(stage.start.value)))),
            stage_takes(stage),
            temperature_print(float(round(stage.end_c))),
            stage.text,
        )
        for stage in timeline.stages
    ]
    if rows:
        screen.heading("Steps")
        screen.table(("", "begins", "takes", "ends at", "step"), rows, fixed=(0, 3))
        ready, work = takes_print(timeline.ready), takes_print(timeline.hands_on)
        screen.text(f"Ready after {ready}; about {work} of it are work.")
    if timeline.points:
        screen.heading("Points that decide")
    for point in timeline.points:
        said = " ".join(part for part in (f"{point.target}.", point.window_text) if part)
        screen.text(f"{said} {point.measure}", lead=f"  {point.title}: ")
    for note in timeline.notes:
        screen.text(note)


def _moments(screen: Screen, moments: Iterable[Moment]) -> None:
    rows = [(one.label, takes_print(one.estimate)) for one in moments]
    if rows:
        screen.heading("Moments")
        screen.table(("what", "after"), rows)


def _compared(screen: Screen, answer: ProcessAnswer) -> None:
    pot = answer.pot
    if pot is None or pot.other is None:
        return
    ends = (pot.coldest.celsius[-1], pot.other.coldest.celsius[-1])
    mine, other = (temperature_print(float(round(end))) for end in ends)
    screen.text(f"Coldest place at the end: {mine}; {pot.other_label}: {other}.")


def _advice(screen: Screen, advice: Iterable[Advice]) -> None:
    for one in advice:
        screen.text(f"{one.text} {one.action}", lead=_STOP[one.is_stop])


def _figures(screen: Screen, figures: Iterable[Figure]) -> None:
    rows = [
        (one.label, estimate_text(one.estimate), range_text(one.estimate), one.estimate.grade.value)
        for one in figures
    ]
    if rows:
        screen.heading("Figures")
        screen.table(("what", "value", "range", "grade"), rows, fixed=(3,))


def _checks(screen: Screen, checks: Iterable[SafetyCheck], topic: str) -> None:
    found = [one for one in checks if one.topic == topic]
    if not found:
        return
    law, beside = ([one for one in found if (one.basis == "law") is is_law]
                   for is_law in (True, False))  # fmt: skip
    screen.heading("Safety")
    if not law:
        screen.text("No rule of the food code was judged.")
    _rulings(screen, law)
    if beside:
        screen.heading("Not law for a kitchen: targets, rules for plants, and information")
    _rulings(screen, beside)
    screen.blank()
    screen.text(found[0].deferral)


def _rulings(screen: Screen, checks: Iterable[SafetyCheck]) -> None:
    for one in checks:
        said = f"{one.ruling.value.upper()}. {one.text} {one.action} {one.section}, {one.edition}."
        screen.text(said, lead=f"  {one.title}: ")
