"""Servings of the US: from the reference amount, in kitchen measures and grams."""

import re
from dataclasses import dataclass

from setwell.engine.labels.panel_results import ContainerServings, ServingSize
from setwell.engine.labels.printing import amount_print
from setwell.engine.origins import density_evidence
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.provenance import Citation, Evidence, Grade
from setwell.science.panels.pieces import serving_pieces
from setwell.tables.labels.serving_tables import ReferenceAmount, reference_amounts

# A container below the first holds one serving; up to the second it shows two columns.
_ONE_SERVING_BELOW, _TWO_COLUMNS_TO = 2.0, 3.0
_CONTAINERS: Evidence = (
    Citation("cfr_21_101_9", "101.9(b)(6) and (b)(12), recalled", Grade.UNVERIFIED),
)
_WEIGHED: Evidence = (Citation("this_kitchen", "weighed", Grade.MEASURED),)
# Air that the computed density does not know of.
_AIRY = re.compile(
    r"\bwhip(?!ping cream)|\bfoam|\bsiphon|\baerat|\bmousse|\bmeringue|soft peaks|stiff peaks",
    re.IGNORECASE,
)
_MOST_GRAMS = 100_000.0


@dataclass(frozen=True, slots=True)
class ServingAsk:
    """What a serving is of.

    `reference` is a key of the reference amounts, blank where none fits: then `own_g` and
    `own_measure` say it. `density_g_ml` is weighed: grams in one mL of the finished food;
    `piece_g` and `piece` are for food sold in pieces; `container_g` is what a container holds.
    """

    reference: str = ""
    density_g_ml: float | None = None
    piece_g: float | None = None
    piece: str = "piece"
    container_g: float | None = None
    own_g: float | None = None
    own_measure: str = ""


def servings(
    bench: Bench, ask: ServingAsk, row: int = 0
) -> tuple[ServingSize, ContainerServings | None]:
    """Return the serving, and how many of them a container holds where one is given.

    Raises InputError for an unknown reference amount and for weights that are not above zero.
    """
    _check(ask)
    if not ask.reference:
        size = _own(ask)
        return size, _container(ask, size.grams, size.grams)
    reference = reference_amounts()[ask.reference]
    density, is_open, remark, evidence = _density(bench, ask, reference, row)
    grams = reference.amount * (density if reference.unit == "mL" else 1.0)
    evidence = (reference.citation, *evidence)
    if ask.container_g is not None and ask.container_g < _ONE_SERVING_BELOW * grams:
        household, weight = "1 container", ask.container_g
    else:
        household, weight = _household(ask, reference, grams)
    size = _size(household, weight, density, reference, is_open, remark, evidence)
    return size, _container(ask, size.grams, grams)


def _check(ask: ServingAsk) -> None:
    if ask.reference and ask.reference not in reference_amounts():
        raise InputError(
            f"There is no reference amount called “{ask.reference[:40]}”.",
            hint=f"Choose one of: {', '.join(reference_amounts())}.",
        )
    if not ask.reference and ask.own_g is None:
        raise InputError("Choose a reference amount, or give the weight of a serving in grams.")
    given = {
        "density": ask.density_g_ml,
        "weight of a piece": ask.piece_g,
        "weight of a container": ask.container_g,
        "weight of a serving": ask.own_g,
    }
    for name, value in given.items():
        if value is not None and not 0.0 < value <= _MOST_GRAMS:
            raise InputError(
                f"The {name} is {value:g}; give a number above 0 and up to {_MOST_GRAMS:,.0f}."
            )


def _density(
    bench: Bench, ask: ServingAsk, reference: ReferenceAmount, row: int
) -> tuple[float, bool, str, Evidence]:
    """Return g/mL, whether it has to be weighed first, what to say, and where it is from."""
    if ask.density_g_ml is not None:
        return ask.density_g_ml, False, "", _WEIGHED
    if ask.piece_g is not None and reference.unit == "g":
        return 1.0, False, "", _WEIGHED
    density = float(bench.state.water.density.value[row]) / 1000.0
    evidence = density_evidence(bench.state, row)
    if reference.unit == "g" and reference.label_unit == "g":
        return density, False, "Weigh which kitchen measure holds this much.", ()
    formula = bench.formula
    if _AIRY.search(f"{formula.title}\n{formula.steps}"):
        said = f"Air is beaten in: weigh {reference.household} of it level and give the density."
        return density, True, said, evidence
    said = f"Density computed without air: weigh {reference.household} of it once to be sure."
    return density, False, said, evidence


def _household(ask: ServingAsk, reference: ReferenceAmount, grams: float) -> tuple[str, float]:
    if ask.piece_g is not None:
        count = int(serving_pieces([ask.piece_g], reference=grams)[0])
        return f"{count} {ask.piece}{'' if count == 1 else 's'}", count * ask.piece_g
    return reference.household, grams


def _size(
    household: str,
    grams: float,
    density: float,
    reference: ReferenceAmount,
    is_open: bool,  # noqa: FBT001
    remark: str,
    evidence: Evidence,
) -> ServingSize:
    """Amounts are for the declared weight, so that label and amounts agree."""
    in_ml = reference.label_unit == "mL"
    shown = amount_print("us", "serving_weight", grams / density if in_ml else grams)
    declared = (shown.value or 0.0) * (density if in_ml else 1.0)
    metric = f"{shown.text} {reference.label_unit}"
    text = f"{household} ({metric})" if household else metric
    about = f"{reference.household} = " if reference.household else ""
    told = f"{reference.food}: {about}{reference.amount:g} {reference.unit}"
    return ServingSize(text, household, metric, declared, told, is_open, remark, evidence)


def _own(ask: ServingAsk) -> ServingSize:
    grams = ask.own_g or 0.0
    shown = amount_print("us", "serving_weight", grams)
    metric = f"{shown.text} g"
    text = f"{ask.own_measure} ({metric})" if ask.own_measure else metric
    return ServingSize(
        text=text,
        household=ask.own_measure,
        metric=metric,
        grams=shown.value or grams,
        reference_text="none of the list",
        is_open=True,
        remark="A serving in the US follows a reference amount: have this one checked.",
        evidence=(Citation("this_kitchen", "given by the kitchen", Grade.MEASURED),),
    )


def _container(ask: ServingAsk, serving_g: float, reference_g: float) -> ContainerServings | None:
    if ask.container_g is None:
        return None
    exact, ratio = ask.container_g / serving_g, ask.container_g / reference_g
    is_one = ratio < _ONE_SERVING_BELOW
    shown = amount_print("us", "servings", exact)
    is_exact = shown.value is not None and abs(shown.value - exact) < 0.01
    text = "1" if is_one else (shown.text if is_exact else f"about {shown.text}")
    return ContainerServings(
        exact, text, ask.container_g, is_one,
        _ONE_SERVING_BELOW <= ratio <= _TWO_COLUMNS_TO, _CONTAINERS,
    )  # fmt: skip
