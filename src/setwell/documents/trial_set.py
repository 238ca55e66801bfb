"""The sheet of a first trial set: weights, steps, cups with blanks, and a page for the tasters."""

import math
from dataclasses import dataclass, replace

from setwell.documents.amounts import estimate_text, number_text, ounces_text, range_text
from setwell.documents.card import DEFERRAL, CardCaution
from setwell.engine.proposals.trial_results import CupAmount, TrialCup, TrialSet
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate
from setwell.units import mass_print

# The base is weighed on the kitchen scale, which shows this [g].
_BASE_STEP_G = 0.1
_NOTHING = 1e-2
_READINGS = ("Poured at °C", "Stands after min")
FOOT = (
    "Write down what you see before you look at what was computed. Taste only what was made and "
    "kept as food."
)


@dataclass(frozen=True, slots=True)
class SheetAmount:
    """One weight with what it is of; `note` says where it comes from a stock."""

    weight: str
    us: str
    name: str
    note: str = ""


@dataclass(frozen=True, slots=True)
class SheetCup:
    """One cup to weigh, make and read."""

    number: str
    code: str
    change: str
    question: str
    amounts: tuple[SheetAmount, ...]
    expected: tuple[tuple[str, str], ...]
    against: str
    blanks: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class TrialSheet:
    """Everything printed for one trial set, already in words.

    `tasting` holds the codes in the order of their numbers, so that it tells nothing.
    """

    title: str
    brief_title: str
    kitchen_name: str
    summary: str
    allergens: tuple[str, ...]
    base_title: str
    base: tuple[SheetAmount, ...]
    stocks: tuple[str, ...]
    steps: tuple[tuple[str, str], ...]
    cups: tuple[SheetCup, ...]
    measures: tuple[str, ...]
    remarks: tuple[str, ...]
    tasting: tuple[str, ...]
    cautions: tuple[CardCaution, ...]
    deferral: str
    foot: str = FOOT


def trial_sheet_build(trials: TrialSet, *, kitchen_name: str = "") -> TrialSheet:
    """Return the sheet of a trial set."""
    return TrialSheet(
        title=trials.title,
        brief_title=trials.brief_title,
        kitchen_name=kitchen_name,
        summary=_summary(trials),
        allergens=trials.allergens,
        base_title=f"Base for all cups, {mass_print(trials.base_total_g, has_us=True)}",
        base=tuple(_whole(one) for one in trials.base),
        stocks=tuple(stock.text for stock in trials.stocks),
        steps=tuple((str(n), text) for n, text in enumerate(trials.steps, start=1)),
        cups=tuple(_cup(cup, trials) for cup in trials.cups),
        measures=trials.measure,
        remarks=trials.remarks,
        tasting=tuple(sorted(trials.codes)),
        cautions=tuple(CardCaution(one.title, one.text) for one in trials.cautions),
        deferral=DEFERRAL.replace("This card", "This sheet"),
    )


def trial_rows(trials: TrialSet) -> tuple[tuple[str, ...], ...]:
    """Return the set as a table to read into a spreadsheet: a heading, then one row for a cup."""
    names = [one.name for one in (*trials.cups[0].amounts, *trials.cups[0].late)]
    head = ("order", "code", "change", "base g", *(f"{name} g" for name in names),
            "stiffness kPa", "stress at break kPa", "strain at break", "thickness mPa·s",
            *trials.measure)  # fmt: skip
    return (head, *(_row(cup, trials) for cup in trials.cups))


def _row(cup: TrialCup, trials: TrialSet) -> tuple[str, ...]:
    texture = cup.texture
    found = (texture.modulus_kpa, texture.fracture_stress_kpa, texture.fracture_strain,
             texture.viscosity_mpa_s)  # fmt: skip
    grams = [_grams(one.grams, trials.scale_g) for one in (*cup.amounts, *cup.late)]
    numbers = ["" if one is None else number_text(one.value) for one in found]
    base = _grams(trials.start_g - _powder(cup), _BASE_STEP_G)
    return (str(cup.number), cup.code, cup.change, base, *grams, *numbers,
            *("" for _ in trials.measure))  # fmt: skip


def _powder(cup: TrialCup) -> float:
    """Return everything in a cup that is not base, whether weighed or in a stock."""
    return sum(one.grams for one in (*cup.amounts, *cup.late))


def _summary(trials: TrialSet) -> str:
    cup = mass_print(trials.cup_g, has_us=True)
    start = ""
    if trials.start_g > trials.cup_g * 1.001:
        start = f", weighed in as {mass_print(trials.start_g)} before steam leaves"
    return (
        f"{len(trials.cups)} cups of {cup}{start}. Powders on a scale that shows "
        f"{trials.scale_g:g} g. Order and codes are drawn (draw {trials.seed})."
    )


def _whole(amount: CupAmount) -> SheetAmount:
    return SheetAmount(mass_print(amount.grams), ounces_text(amount.grams), amount.name)


def _cup(cup: TrialCup, trials: TrialSet) -> SheetCup:
    base = SheetAmount(f"{_grams(cup.base_g, _BASE_STEP_G)} g", ounces_text(cup.base_g), "base")
    powders = (_weighed(one, trials.scale_g) for one in cup.amounts if one.grams > 0)
    late = (_weighed(one, trials.scale_g, note="last") for one in cup.late)
    return SheetCup(
        number=str(cup.number),
        code=cup.code,
        change=cup.change,
        question=cup.question,
        amounts=(base, *powders, *late),
        expected=expected_lines(cup.texture),
        against=cup.against,
        blanks=(*_READINGS, *_blanks(cup.texture)),
    )


def _weighed(amount: CupAmount, scale_g: float, note: str = "") -> SheetAmount:
    if amount.stock_g is None:
        return SheetAmount(f"{_grams(amount.grams, scale_g)} g", "", amount.name, note)
    holds = f"holds {number_text(amount.grams)} g"
    return SheetAmount(f"{_grams(amount.stock_g, scale_g)} g", "", f"{amount.name} stock", holds)


def _grams(grams: float, step: float) -> str:
    """Return grams with as many decimals as the scale shows."""
    return f"{grams:.{max(0, math.ceil(-math.log10(step) - 1e-9))}f}"


def _blanks(texture: Texture) -> tuple[str, ...]:
    if texture.sets is Verdict.NO:
        return ("Thickness", "pH", "Words")
    return ("Load g", "Load g", "Depth mm", "Unmolds", "Water 24 h g", "pH", "Words")


def expected_lines(texture: Texture) -> tuple[tuple[str, str], ...]:
    """Return what is computed of a cup, each with its range, as label and text."""
    found: list[tuple[str, Estimate | None]] = [
        ("Stiffness", texture.modulus_kpa),
        ("Stress at break", texture.fracture_stress_kpa),
        ("Strain at break", texture.fracture_strain),
        ("Thickness", texture.viscosity_mpa_s if texture.sets is Verdict.NO else None),
        ("Sets from", texture.first_set_c),
        ("Water given off in a week", texture.weeps_pct),
    ]
    numbers = ((label, one) for label, one in found if one is not None)
    lines = [(label, _with_range(one)) for label, one in numbers if math.isfinite(one.value)]
    sets = {Verdict.YES: "yes", Verdict.CANNOT_TELL: "cannot tell", Verdict.NO: "no"}[texture.sets]
    words = [("Words", ", ".join(texture.words))] if texture.words else []
    return (("Sets", sets), *lines, *words)


def _with_range(estimate: Estimate) -> str:
    # What is next to nothing beside the number itself is printed as nothing.
    if estimate.low is not None and 0.0 < estimate.low < _NOTHING * abs(estimate.value):
        estimate = replace(estimate, low=0.0)
    span = range_text(estimate)
    return f"{estimate_text(estimate)} ({span})" if span else estimate_text(estimate)
