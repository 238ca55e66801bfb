"""What can be asked of a label, and what is wrong with what was asked."""

from collections.abc import Mapping
from dataclasses import dataclass
from enum import StrEnum
from typing import Any

from setwell.domain.brief import Market
from setwell.domain.formula import Formula, Goal
from setwell.engine.labels.statement_results import LabelChoices
from setwell.errors import InputError
from setwell.services.label_fields import (
    NUMBERS,
    analysis_read,
    names_read,
    number_read,
    pairs_read,
    text_read,
)
from setwell.tables.labels.food_categories import OTHER, food_categories
from setwell.tables.labels.serving_tables import ReferenceAmount, reference_amounts
from setwell.units import text_quote

MAY_CONTAIN_MOST = 300
MEASURE_MOST = 40
# At the end of a US list, in any order, after "Contains 2% or less of"; none lists all by weight.
MINORS: dict[str, float | None] = {"2": 2.0, "1.5": 1.5, "1": 1.0, "0.5": 0.5, "none": None}
MINOR = "2"
_MARKETS = {"us": "United States", "eu": "European Union"}
_BY_GOAL = {Goal.POUR: "sauce_minor", Goal.SPREAD: "dessert_topping"}
_USUAL_REFERENCE = "gelatin_pudding"


_TYPED = ("measure", "may_contain", "analyzed", "wordings", "species", "emphasized")
_KEY_MOST = 200
# All that can be chosen; asking for the final label is a question of the moment.
ASK_FIELDS = (
    "market", "category", "reference", "form", "minor", "per_ml", "by_number",
    *_TYPED, "cleared", "shares", *NUMBERS,
)  # fmt: skip
_NAMES = {
    "market": "market", "category": "kind of food", "reference": "reference amount",
    "form": "form of a panel", "stage": "stage", "minor": "share",
}  # fmt: skip


class PanelForm(StrEnum):
    """Which form the US panel takes."""

    FULL = "full"
    SHORT = "short"


class Stage(StrEnum):
    """How far the label is meant to be."""

    DRAFT = "draft"
    FINAL = "final"


@dataclass(frozen=True, slots=True)
class LabelAsk:
    """What is asked for; `analyzed` holds amounts per 100 g that an analysis found.

    `wordings`, `species`, `cleared`, `emphasized`, `minor`, `by_number` and `shares` are what
    the kitchen says about the ingredient list; `minor` is a key of MINORS.

    `reference` is a key of the US reference amounts; `serving_g` takes its place, and `measure`
    is how it is measured. In the EU `serving_g` is the portion of a second column. `density` is
    weighed, in g/mL; `protein_score` is from an analysis, up to 1.
    """

    market: Market = Market.US
    category: str = OTHER
    reference: str = _USUAL_REFERENCE
    serving_g: float | None = None
    measure: str = ""
    container_g: float | None = None
    piece_g: float | None = None
    density: float | None = None
    protein_score: float | None = None
    per_ml: bool = False
    may_contain: str = ""
    form: PanelForm = PanelForm.FULL
    stage: Stage = Stage.DRAFT
    analyzed: tuple[tuple[str, float], ...] = ()
    wordings: tuple[tuple[str, str], ...] = ()
    species: tuple[tuple[str, str], ...] = ()
    cleared: tuple[str, ...] = ()
    emphasized: tuple[str, ...] = ()
    minor: str = MINOR
    by_number: bool = False
    shares: tuple[str, ...] = ()

    @property
    def choices(self) -> LabelChoices:
        """What the kitchen says about the ingredient list."""
        return LabelChoices(
            may_contain=self.may_contain,
            wordings=dict(self.wordings),
            species=dict(self.species),
            cleared=frozenset(self.cleared),
            emphasized=self.emphasized,
            minor_pct=MINORS[self.minor],
            by_number=self.by_number,
            shares_shown=frozenset(self.shares),
        )


@dataclass(frozen=True, slots=True)
class MadeAsk:
    """An ask read from loose fields, and what is wrong with them, each at its field."""

    ask: LabelAsk
    problems: tuple[InputError, ...]


def market_choices() -> tuple[tuple[str, str], ...]:
    """Return the markets with their names."""
    return tuple(_MARKETS.items())


def category_choices() -> tuple[tuple[str, str], ...]:
    """Return the kinds of food by which additives are limited."""
    return tuple((one.key, one.name) for one in food_categories().values())


def reference_choices() -> tuple[tuple[str, str], ...]:
    """Return the US reference amounts with what each is."""
    found = sorted(reference_amounts().values(), key=lambda one: one.food)
    return tuple((one.key, f"{one.food}: {_amount(one)}") for one in found)


def _amount(one: ReferenceAmount) -> str:
    grams = f"{one.amount:g} {one.unit}"
    return f"{one.household} ({grams})" if one.household else grams


def category_name(key: str) -> str:
    """Return the name of a kind of food."""
    found = food_categories().get(key)
    return found.name if found else key


def ask_first(formula: Formula) -> LabelAsk:
    """Return what is asked before anything was chosen, from what the formula is to become."""
    return LabelAsk(reference=_BY_GOAL.get(formula.goal, _USUAL_REFERENCE))


def ask_make(fields: Mapping[str, object], first: LabelAsk | None = None) -> MadeAsk:
    """Return the ask that fields hold; what is empty is as in `first`."""
    first = first or LabelAsk()
    problems: list[InputError] = []

    def picked(name: str, known: Mapping[str, object], usual: str) -> str:
        typed = str(fields.get(name) or "").strip() or usual
        if typed in known:
            return typed
        problems.append(_unknown(name, typed, known))
        return usual

    made = LabelAsk(
        market=Market(picked("market", _MARKETS, first.market.value)),
        category=picked("category", food_categories(), first.category),
        reference=picked("reference", reference_amounts(), first.reference),
        form=PanelForm(picked("form", dict.fromkeys(PanelForm), first.form.value)),
        stage=Stage(picked("stage", dict.fromkeys(Stage), first.stage.value)),
        minor=picked("minor", MINORS, first.minor),
        per_ml=_is_on(fields.get("per_ml")),
        by_number=_is_on(fields.get("by_number")),
        **_written(fields, problems),
    )
    return MadeAsk(made, tuple(problems))


def _written(fields: Mapping[str, object], problems: list[InputError]) -> dict[str, Any]:
    """Return what is typed freely."""
    typed = {name: str(fields.get(name) or "") for name in _TYPED}
    return {
        "measure": text_read(typed["measure"], "measure", MEASURE_MOST, problems),
        "may_contain": text_read(typed["may_contain"], "may_contain", MAY_CONTAIN_MOST, problems),
        "analyzed": analysis_read(typed["analyzed"], problems),
        "wordings": pairs_read(typed["wordings"], "wordings", "oat drink: oats, water", problems),
        "species": pairs_read(typed["species"], "species", "fish: cod", problems),
        "emphasized": names_read(typed["emphasized"]),
        "cleared": _listed(fields.get("cleared")),
        "shares": _listed(fields.get("shares")),
        **{name: number_read(fields.get(name), name, problems) for name in NUMBERS},
    }


def _listed(given: object) -> tuple[str, ...]:
    found = given if isinstance(given, list | tuple) else [given] if given else []
    return tuple(dict.fromkeys(str(one)[:_KEY_MOST] for one in found if one))


def _is_on(given: object) -> bool:
    return given in {True, "true", "on", "1"}


def _unknown(name: str, typed: str, known: Mapping[str, object]) -> InputError:
    return InputError(
        f"There is no {_NAMES[name]} {text_quote(typed[:40])}.",
        field=name,
        hint=f"Choose one of: {', '.join(known)}.",
    )
