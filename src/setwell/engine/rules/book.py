"""All rules in the order they are told."""

from dataclasses import replace

import numpy as np

from setwell.engine.assessment import Finding, Severity
from setwell.engine.rules.acidity import acid_hot, acid_window, milk_curdles
from setwell.engine.rules.bench import Bench, Hit, Mask, Rule
from setwell.engine.rules.dispersion import blooming, clumps, too_cool
from setwell.engine.rules.doses import dose_range, gelling_ions, strong_alcohol
from setwell.engine.rules.eggs import undercooked_egg
from setwell.engine.rules.enzymes import raw_enzyme_fruit
from setwell.engine.rules.goals import goal_missed, melts_when_served, no_gel, poured_too_cold
from setwell.engine.rules.milk_layers import milk_parts
from setwell.engine.rules.reading import (
    impossible_amounts,
    no_agent,
    unread_inside,
    unread_lines,
)
from setwell.engine.rules.saturation import saturated
from setwell.engine.rules.together import (
    absurd_dose,
    calcium_bath,
    calcium_first,
    gels_only_hot,
    lacks,
    no_water,
    opposite_charges,
)

RULES: tuple[Rule, ...] = (
    unread_lines,
    unread_inside,
    impossible_amounts,
    no_water,
    absurd_dose,
    undercooked_egg,
    raw_enzyme_fruit,
    opposite_charges,
    calcium_first,
    no_gel,
    lacks,
    calcium_bath,
    gels_only_hot,
    too_cool,
    acid_window,
    acid_hot,
    milk_curdles,
    milk_parts,
    melts_when_served,
    blooming,
    clumps,
    dose_range,
    poured_too_cold,
    goal_missed,
    strong_alcohol,
    gelling_ions,
    saturated,
    no_agent,
)
_ORDER = {Severity.STOP: 0, Severity.WARN: 1, Severity.NOTE: 2}


def hits(bench: Bench) -> tuple[Hit, ...]:
    """Return every rule that holds for at least one candidate."""
    count = (len(bench.state.masses),)
    found = (hit for rule in RULES for hit in rule(bench) if hit.mask.any())
    # What the steps alone decide comes as one answer for all candidates.
    return tuple(replace(hit, mask=np.broadcast_to(hit.mask, count)) for hit in found)


def rule_masks(bench: Bench) -> dict[str, Mask]:
    """Return, per rule code, the candidates it holds for."""
    masks: dict[str, Mask] = {}
    for hit in hits(bench):
        masks[hit.code] = masks[hit.code] | hit.mask if hit.code in masks else hit.mask
    return masks


def findings(bench: Bench, row: int = 0) -> tuple[Finding, ...]:
    """Return what the rules say about one candidate, the gravest first."""
    told = [hit.finding(row) for hit in hits(bench) if hit.mask[row]]
    return tuple(sorted(told, key=lambda finding: _ORDER[finding.severity]))
