"""Where scaled weights lead: the bench sheet, the card and the files of exactly that batch."""

from collections.abc import Mapping
from dataclasses import dataclass
from urllib.parse import urlencode

from django.urls import reverse

from setwell.services.batch_plan import plan_for_version
from setwell.web.batch_asked import SCALED_TO, target_asked
from setwell.web.inputs import number_initial


@dataclass(frozen=True, slots=True)
class ScaledOn:
    """Addresses that carry a batch on, each with what was asked of the Scale page."""

    grams: float
    sheet: str
    sheet_pdf: str
    card: str
    card_pdf: str


def scaled_on(
    formula_id: int, grams: float, asked: Mapping[str, str], *, number: int | None = None
) -> ScaledOn:
    """Return where a batch of so many grams can be taken to."""
    version = {} if number is None else {"version": str(number)}
    step = asked.get("readability_g", "")
    batch = {"batch": number_initial(grams), **({"readability_g": step} if step else {})}
    kept = {**version, **batch, **target_asked(asked)}
    sheet = {**kept, **_molds(formula_id, number, grams, kept)}
    return ScaledOn(
        grams=grams,
        sheet=_address("bench_sheet", formula_id, sheet),
        sheet_pdf=_address("bench_sheet_pdf", formula_id, {**sheet, "paper": "A4"}),
        card=_address("card_view", formula_id, kept),
        card_pdf=_address("card_pdf", formula_id, {**kept, "paper": "A4"}),
    )


def _molds(
    formula_id: int, number: int | None, grams: float, kept: Mapping[str, str]
) -> dict[str, str]:
    """Return how many molds that batch fills, by what was asked or else by the plan."""
    if kept.get(SCALED_TO) == "molds" and kept.get("mold_count"):
        return {"count": kept["mold_count"]}
    cooling = plan_for_version(formula_id=formula_id, number=number, grams=grams).cooling
    return {"count": str(cooling.count)} if cooling else {}


def _address(name: str, formula_id: int, query: Mapping[str, str]) -> str:
    return f"{reverse(name, args=[formula_id])}?{urlencode(query)}"
