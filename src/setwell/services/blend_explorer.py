"""Try blends: two or three agents over their ratios and doses, with everything around them."""

from dataclasses import dataclass, replace
from itertools import groupby

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.assessment import Caution, Finding, Severity, Texture
from setwell.engine.blend_formula import DOSE_MOST_PCT, SALT_MOST_PCT, STIRRING, BlendAsk
from setwell.engine.blend_formula import blend_draft as _draft
from setwell.engine.blend_grid import BlendGrid, BlendPoint, blend_kinds
from setwell.engine.blend_grid import blend_grid as _grid
from setwell.engine.cautions import cautions
from setwell.engine.diets import allergens
from setwell.engine.material import Span
from setwell.engine.rules.book import findings
from setwell.engine.texture_words import texture_words
from setwell.errors import InputError, NotFoundError
from setwell.services.blend_charts import BlendChart, blend_charts, span_text
from setwell.services.formulas import version_get
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.texture_calibration import corrections_for
from setwell.tables.agents import agent_rows

__all__ = [
    "DOSE_MOST_PCT",
    "SALT_MOST_PCT",
    "STIRRING",
    "AgentChoice",
    "BlendAnswer",
    "BlendAsk",
    "BlendChart",
    "BlendGrid",
    "BlendPoint",
    "Span",
    "agent_choices",
    "base_names",
    "blend_explore",
    "blend_kinds",
    "span_text",
]

_BASES = (
    "water", "whole milk", "skim milk", "heavy cream", "canned coconut milk", "oat milk",
    "unsweetened almond milk", "unsweetened soy milk", "orange juice", "apple juice",
    "tomato juice", "vegetable stock", "chicken stock", "coffee", "red wine",
)  # fmt: skip
_OWN = "This kitchen's own"
_KINDS = {
    "cold-set gel": "Set on cooling",
    "ion-set gel": "Set with salts",
    "heat-set gel": "Set on heating",
    "sugar-acid gel": "Set with sugar and acid",
    "blend": "Ready blends",
    "thickener and gel": "Thicken, and set with a partner",
    "thickener": "Thicken",
}


@dataclass(frozen=True, slots=True)
class AgentChoice:
    """One agent to choose: the name a line finds it by, and the group it is listed under."""

    name: str
    group: str
    lot: str


@dataclass(frozen=True, slots=True)
class BlendAnswer:
    """What a blend comes to: the blend itself in words, and all ratios and doses around it.

    `findings` are those that stop or warn. `readings` counts the kitchen's own measurements
    that moved the numbers.
    """

    grid: BlendGrid
    texture: Texture
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]
    charts: tuple[BlendChart, ...]
    readings: int

    @property
    def formula(self) -> Formula:
        """The blend as kitchen lines and steps."""
        return self.grid.formula


def blend_explore(
    *,
    ask: BlendAsk,
    formula_id: int | None = None,
    number: int | None = None,
    has_charts: bool = True,
) -> BlendAnswer:
    """Return a blend with what this kitchen has and has measured.

    `formula_id` and `number` name a saved formula that is the base, without its agents.
    Raises InputError, with the field it belongs to, for what cannot be tried.
    """
    if formula_id is not None:
        ask = replace(ask, formula=_formula(formula_id, number))
    catalog = kitchen_catalog()
    parts = {} if ask.formula is None else parts_for(ask.formula)
    draft = _draft(ask, catalog=catalog, parts=parts)
    formula = draft.formula
    # An agent without a dose stands in the grid all the same.
    has_all = draft.ask.dose_pct > 0 and min(draft.shares) > 0
    known = corrections_for(formula=formula if has_all else draft.grid_formula)
    grid = _grid(draft, catalog=catalog, parts=parts, corrections=known.corrections)
    bench = bench_build(formula, catalog=catalog, parts=parts, corrections=known.corrections)
    texture = texture_words(bench)
    return BlendAnswer(
        grid=grid,
        texture=texture,
        findings=tuple(one for one in findings(bench) if one.severity is not Severity.NOTE),
        cautions=cautions(bench, allergens(bench.plan)),
        charts=blend_charts(grid, texture) if has_charts else (),
        readings=sum(one.is_counted for one in known.readings) if known.corrections else 0,
    )


def agent_choices() -> tuple[tuple[str, tuple[AgentChoice, ...]], ...]:
    """Return every agent of the tables and of this kitchen, by group, own ones first."""
    found = []
    for material in kitchen_catalog().materials.values():
        side = material.agent
        if side is not None:
            is_own = material.key.startswith("own:")
            kind = _KINDS.get(agent_rows()[side.key].kind, "Other")
            found.append(AgentChoice(material.name, _OWN if is_own else kind, side.lot))
    order = (_OWN, *_KINDS.values(), "Other")
    found.sort(key=lambda one: (order.index(one.group), one.name.casefold()))
    return tuple((group, tuple(ones)) for group, ones in groupby(found, lambda one: one.group))


def base_names() -> tuple[str, ...]:
    """Return usual bases, and the foods of this kitchen."""
    own = [one.name for key, one in kitchen_catalog().materials.items() if _is_own_food(key, one)]
    return (*_BASES, *sorted(own, key=str.casefold))


def _is_own_food(key: str, material: object) -> bool:
    return key.startswith("own:") and getattr(material, "agent", None) is None


def _formula(formula_id: int, number: int | None) -> Formula:
    try:
        return version_get(formula_id=formula_id, number=number).formula
    except NotFoundError as error:
        raise InputError(error.message, field="formula", hint="Choose one from the list.") from None
