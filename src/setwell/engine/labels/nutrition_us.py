"""The nutrition panel of the US."""

from collections.abc import Mapping
from enum import StrEnum

from setwell.engine.labels.fiber import fiber_findings
from setwell.engine.labels.panel_amounts import panel_amounts
from setwell.engine.labels.panel_blockers import blockers_of
from setwell.engine.labels.panel_results import (
    Blocker,
    ContainerServings,
    Form,
    PanelColumn,
    PanelRow,
    ServingSize,
    SimplifiedForm,
    UsPanel,
)
from setwell.engine.labels.protein_share import with_protein_share
from setwell.engine.labels.servings import ServingAsk, servings
from setwell.engine.labels.sugars_inside import agreed_rows
from setwell.engine.rules.bench import Bench
from setwell.provenance import Citation, Evidence, Grade, evidence_join
from setwell.tables.labels.panel_tables import energy_factors, panel_lines

FOOTNOTE = (
    "The % Daily Value (DV) tells you how much a nutrient in a serving of food contributes to a "
    "daily diet. 2,000 calories a day is used for general nutrition advice."
)
_PAIRS = (
    ("saturated_fat", "fat"),
    ("trans_fat", "fat"),
    ("fiber", "carbohydrate"),
    ("sugars", "carbohydrate"),
    ("added_sugars", "sugars"),
)
# So many of the core nutrients have to be insignificant before the short panel is allowed.
_SIMPLE_FROM = 8
_SIMPLE: Evidence = (Citation("cfr_21_101_9", "101.9(f), recalled", Grade.UNVERIFIED),)
_BY_DIFFERENCE = (
    "Sugar alcohols and organic acids that nobody analyzed are inside the carbohydrate by "
    "difference and count 4 kcal/g."
)
_ALCOHOL = (
    "Alcohol counts 7 kcal/g and is taken as still there: what boils off is not computed. Drinks "
    "with alcohol can fall under other rules."
)
_FORTIFIED = "What was added of a vitamin or mineral has to be there in full, not to 80 %."


class UsEnergy(StrEnum):
    """Ways to compute calories that the rule allows."""

    GENERAL = "4, 4 and 9"
    LESS_FIBER = "4, 4 and 9 less what is not digested"


def us_panel(
    bench: Bench,
    *,
    serving: ServingAsk,
    energy: UsEnergy = UsEnergy.GENERAL,
    analyzed: Mapping[str, float] | None = None,
    protein_score: float | None = None,
    row: int = 0,
) -> UsPanel:
    """Return the US panel of one candidate of a bench.

    `analyzed` are amounts per 100 g of the finished food, by line such as `iron`, that replace
    what is computed. `protein_score` corrects protein for digestibility, which its percentage
    needs; without it there is none. Raises InputError for a serving or an analysis that cannot be.
    """
    amounts = panel_amounts(bench, "us", analyzed=analyzed)
    size, container = servings(bench, serving, row)
    columns = _columns(size, container)
    amounts, rows, raised = agreed_rows(amounts, columns, {"calories": _energy(energy)}, row)
    rows = tuple(r for r in rows if r.is_mandatory or r.cells[0].printed.form is not Form.ZERO)
    if protein_score is not None:
        rows = tuple(with_protein_share(one, protein_score) for one in rows)
    fiber = fiber_findings(bench.plan.materials, "us")
    has_alcohol = bool(bench.state.composition.of("alcohol_g")[row] > 0)
    blockers = (*blockers_of(amounts, rows, _PAIRS, row), *_serving_open(size))
    return UsPanel(
        serving=size,
        container=container,
        columns=columns,
        rows=rows,
        simplified=_simplified(rows),
        fiber=fiber,
        footnote=FOOTNOTE,
        notes=(*raised, _BY_DIFFERENCE, *((_ALCOHOL,) if has_alcohol else ()), _FORTIFIED),
        blockers=blockers,
        evidence=evidence_join([size.evidence, *(r.evidence for r in rows), _factors_evidence()]),
    )


def _columns(size: ServingSize, container: ContainerServings | None) -> tuple[PanelColumn, ...]:
    first = PanelColumn("serving", "per serving", size.grams)
    if container is None or not container.needs_two_columns:
        return (first,)
    return (first, PanelColumn("container", "per container", container.grams))


def _energy(way: UsEnergy) -> dict[str, float]:
    """Return the factors; negative ones take out what the carbohydrate already holds."""
    factors = energy_factors("us")
    each = {key: factors[key].kcal_per_g for key in ("fat", "carbohydrate", "protein", "alcohol")}
    if way is UsEnergy.GENERAL:
        return each
    carbohydrate = each["carbohydrate"]
    return each | {
        "undigested": factors["undigested"].kcal_per_g - carbohydrate,
        "polyols": -carbohydrate,
        "polyol_kcal": 1.0,
    }


def _factors_evidence() -> Evidence:
    return tuple(dict.fromkeys(factor.citation for factor in energy_factors("us").values()))


def _serving_open(size: ServingSize) -> tuple[Blocker, ...]:
    if not size.is_open:
        return ()
    return (Blocker("serving_open", f"The serving {size.text} is not settled.", size.remark),)


def _simplified(rows: tuple[PanelRow, ...]) -> SimplifiedForm:
    """Return whether enough lines are insignificant to leave them out."""
    core = [row for row in rows if row.is_mandatory]
    gone = tuple(row.key for row in core if row.is_insignificant)
    always = {line.row for line in panel_lines("us") if line.is_kept}
    kept = tuple(row.key for row in rows if row.key in always or row.key not in gone)
    named = [row.label.lower() for row in core if row.key not in kept]
    sentence = f"Not a significant source of {_listed(named)}." if named else ""
    return SimplifiedForm(len(gone) >= _SIMPLE_FROM, gone, kept, sentence, _SIMPLE)


def _listed(names: list[str]) -> str:
    if len(names) < 2:
        return "".join(names)
    return f"{', '.join(names[:-1])} or {names[-1]}"
