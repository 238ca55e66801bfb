"""Doses for a pH for people, and as JSON."""

from setwell.cli.failure import warning_print
from setwell.cli.screen import Screen
from setwell.cli.shape import json_text
from setwell.documents.amounts import range_text
from setwell.provenance import Estimate
from setwell.services.acidity import AcidPlan, DoseResult, Taste
from setwell.units import mass_print, percent_print

_TASTED = {Taste.NOTICED: ", noticed", Taste.TOO_MUCH: ", too much"}


def acid_json(result: AcidPlan) -> str:
    """Return doses as JSON text."""
    return json_text("acid-plan", {"acid_plan": result})


def acid_print(result: AcidPlan) -> None:
    """Print what to weigh to reach a pH."""
    screen = Screen()
    screen.text(result.title, style="bold")
    origin = "your reading" if result.is_measured else "computed"
    if result.is_moved:
        origin += ", moved by an earlier reading"
    screen.text(
        f"pH {_ph(result.ph)}, {origin}; to pH {result.target_ph:g} in "
        f"{mass_print(result.batch_g)} of batch:"
    )
    reached = [one for one in result.doses if one.reachable]
    if reached:
        screen.blank()
        heads = ("weigh", "range", "share", "sodium", "citrate", "what")
        screen.table(heads, [_row(one) for one in reached], right=(0, 1, 2, 3, 4), fixed=(0, 1, 2))
        screen.text("Sodium and citrate in mg per 100 g with the dose in; taste is a rough limit.")
    for one in result.doses:
        for said in (one.reason, *one.flags):
            if said:
                screen.text(f"{said.rstrip('.')}.", lead=f"  {one.name}: ")
    screen.blank()
    screen.text("Add a little less, stir, read the pH, then the rest.")
    for warning in result.warnings:
        warning_print(warning)
    for caution in result.cautions:
        screen.text(caution.text, lead="Caution: ")


def _ph(ph: Estimate) -> str:
    if ph.low is None or ph.high is None:
        return f"{ph.value:.1f}"
    return f"{ph.value:.1f} ({ph.low:.1f} to {ph.high:.1f})"


def _row(one: DoseResult) -> tuple[str, ...]:
    grams = one.grams
    return (
        "" if grams is None else mass_print(grams.value),
        "" if grams is None else range_text(grams) or "",
        "" if one.percent is None else percent_print(one.percent),
        "" if one.sodium is None else f"{one.sodium.value:.0f}{_TASTED.get(one.sodium_taste, '')}",
        ""
        if one.citrate is None
        else f"{one.citrate.value:.0f}{_TASTED.get(one.citrate_taste, '')}",
        one.name,
    )
