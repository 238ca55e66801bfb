"""Substitutions for people, and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import SEVERITY_STYLES, Screen
from setwell.cli.shape import json_text
from setwell.provenance import Estimate
from setwell.services.substitution import Candidate, Substitution, Swap, ValueChange
from setwell.units import mass_print, percent_print

_KEPT = {True: "kept", False: "changes", None: ""}
_STEP = {"same": "  ", "changed": "~ ", "added": "+ ", "removed": "- "}


def substitution_json(result: Substitution) -> str:
    """Return a substitution as JSON text."""
    return json_text("substitution", {"substitution": result})


def substitution_print(result: Substitution) -> None:
    """Print the swap, or the agents to choose from."""
    screen = Screen()
    screen.text(result.formula.title, style="bold")
    what = f"{mass_print(result.replaced_g)} {result.replaced}"
    if result.target is not None:
        screen.text(f"Out goes {what}; kept: {result.keep.value}, {_number(result.target)}.")
    if result.swap is not None:
        _swap(screen, result.swap)
    if result.candidates:
        _candidates(screen, result.candidates)


def _swap(screen: Screen, swap: Swap) -> None:
    _dose(screen, swap)
    for helper in swap.helpers:
        screen.text(f"With it {mass_print(helper.grams)} {helper.name}: {helper.reason}.")
    if swap.reason:
        screen.text(f"{swap.name}: {swap.reason}.", lead="warn: ", style=SEVERITY_STYLES["warn"])
    screen.text(swap.after.sentence)
    screen.heading("Before and after")
    screen.table(
        ("", "before", "after", ""), [(one.label, *_sides(one), _KEPT[one.is_kept]) for one in
                                      swap.values]
    )  # fmt: skip
    screen.heading("The work")
    for change in swap.process:
        if change.is_changed:
            screen.text(f"{change.before} → {change.after}", lead=f"{change.label}: ")
    _steps(screen, swap)
    _notes(screen, swap)


def _notes(screen: Screen, swap: Swap) -> None:
    for remark in swap.remarks:
        warning_print(remark.text)
    for finding in swap.findings:
        screen.text(
            f"{finding.title}. {finding.text} {finding.action}".strip(),
            style=SEVERITY_STYLES[finding.severity.value], lead=f"{finding.severity.value}: ",
        )  # fmt: skip
    for caution in swap.cautions:
        screen.text(f"Caution: {caution.text}")


def _dose(screen: Screen, swap: Swap) -> None:
    if swap.dose_g is not None and swap.dose_pct is not None:
        share = percent_print(swap.dose_pct.value)
        if not swap.is_reached:
            screen.text("No dose keeps it; this is the nearest.")
        screen.text(f"In comes {_mass(swap.dose_g)} {swap.line_name}, {share} of the batch.")


def _steps(screen: Screen, swap: Swap) -> None:
    screen.heading("Kitchen lines")
    for line in swap.formula.ingredients.splitlines():
        screen.text(line, lead="  ")
    screen.heading("Steps (~ changed, + new, - gone)")
    for step in swap.steps:
        screen.text(step.after or step.before, lead=_STEP[step.kind])


def _sides(one: ValueChange) -> tuple[str, str]:
    before = one.before_text if one.before is None else _number(one.before)
    after = one.after_text if one.after is None else _number(one.after)
    return before, after


def _number(estimate: Estimate) -> str:
    return f"{estimate.value:.3g} {estimate.unit}".strip()


def _mass(dose: Estimate) -> str:
    """Return a dose with its range; an open end is said."""
    low = "" if dose.low is None else mass_print(dose.low)
    high = "any dose" if dose.high is None else mass_print(dose.high)
    middle = mass_print(dose.value)
    return middle if low == high == middle else f"{middle} ({low or 'less'} to {high})"


def _candidates(screen: Screen, found: tuple[Candidate, ...]) -> None:
    screen.heading("Could stand in, nearest first")
    possible = [one for one in found if one.is_possible and one.dose_pct is not None]
    for one in possible:
        salt = f", with {' and '.join(one.helpers)}" if one.helpers else ""
        dose = percent_print(one.dose_pct or 0.0)
        screen.text(f"{dose}{salt}: {one.reason}", lead=f"  {one.name}  ")
    if not possible:
        screen.text("None.")
    screen.heading("Fall out")
    for one in found:
        if not one.is_possible:
            screen.text(one.reason, lead=f"  {one.name}  ")
