"""Gums that part from milk protein."""

from collections.abc import Iterable

import numpy as np

from setwell.engine.assessment import Severity
from setwell.engine.milk_parting import HOLDS, LEAST_PCT, MILK_SHARE, PARTS
from setwell.engine.rules.bench import Bench, Hit
from setwell.provenance import Citation, Evidence, Grade
from setwell.tables.agents import agent_rows

_PARTING: Evidence = (
    Citation("tuinier_2000", "abstract: guar and casein micelles of skim milk", Grade.MEASURED),
    Citation("spagnuolo_2006", "abstract: kappa prevents it", Grade.MEASURED),
)


def milk_parts(bench: Bench) -> Iterable[Hit]:
    """Say when a gum without charge may drive milk protein out of its layer."""
    doses = bench.state.doses_pct
    holds = agent_rows()["kappa_carrageenan"].figure("dose_typical", "prevents wheying in dairy")
    is_milk = bench.state.water.milk_protein_share >= MILK_SHARE
    held = np.zeros(len(is_milk), dtype=np.bool_)
    for key in HOLDS & set(doses):
        held |= doses[key] >= (holds.low or holds.value)
    for key in sorted(PARTS & set(doses)):
        name = bench.name(key)
        yield Hit(
            "milk_parts", Severity.WARN, is_milk & ~held & (doses[key] >= LEAST_PCT),
            lambda row, name=name, key=key: (  # type: ignore[misc]
                f"{name} may part from the milk protein",
                f"{doses[key][row]:.2g} % beside casein: gums without charge crowd it out, and a "
                "clear layer forms within hours or days, unless a gel sets first. No law here "
                "tells how much or how soon; the texture assumes that it stays one.",
                f"Leave a cup in the fridge overnight and look. {holds.low:g} to {holds.high:g} % "
                "of kappa carrageenan, dissolved hot, holds milk together."),
            bench.lines_of(key), (), (*_PARTING, holds.citation),
        )  # fmt: skip
