"""How much of an ingredient: weight, volume, pieces, percent or a target."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.problems import LineProblem, ProblemCode
from setwell.units import UNITS, Dimension, Unit, number_print

# More than any test kitchen or small production handles: 1000 kg in g, 1000 L in mL, pieces.
_MASS_MOST = 1e6
_VOLUME_MOST = 1e6
_COUNT_MOST = 1e5
# Measures that come in halves and thirds rather than decimals.
_SPOONED = {"tsp", "tbsp", "cup", "pint", "quart", "gallon", "pinch", "dash", "stick"}

_PACKS = {"can", "packet", "jar", "bottle", "bag", "carton", "tub", "box"}


class AmountKind(StrEnum):
    """The ways an amount can be given."""

    MASS = "mass"
    VOLUME = "volume"
    COUNT = "count"
    PERCENT = "percent"
    PERCENT_TARGET = "percent_target"
    MASS_TARGET = "mass_target"
    UNSTATED = "unstated"


@dataclass(frozen=True, slots=True)
class Amount:
    """An amount as written.

    `value` counts in `unit` (the unit's one name; "%" for percents; 0 when unstated).
    `grams` is set for MASS, and for MASS_TARGET as the weight to make the batch up to.
    """

    kind: AmountKind
    value: float
    unit: str
    grams: float | None = None
    milliliters: float | None = None
    size: str = ""


UNSTATED = Amount(AmountKind.UNSTATED, 0.0, "")


def amount_measured(value: float, unit: Unit, *, size: str = "") -> Amount:
    """Return the amount for a number and a unit of mass, volume or count."""
    total = value * unit.factor
    if unit.dimension == Dimension.MASS:
        return Amount(AmountKind.MASS, value, unit.name, grams=total)
    if unit.dimension == Dimension.VOLUME:
        return Amount(AmountKind.VOLUME, value, unit.name, milliliters=total)
    return Amount(AmountKind.COUNT, value, unit.name, size=size)


def amount_percent(value: float) -> Amount:
    """Return an amount in percent of the batch."""
    return Amount(AmountKind.PERCENT, value, "%")


def amount_problem(amount: Amount) -> LineProblem | None:
    """Return the problem of an amount that no kitchen handles."""
    written = amount_print(amount)
    if (amount.grams or 0.0) > _MASS_MOST:
        return _absurd(written, "1000 kg")
    if (amount.milliliters or 0.0) > _VOLUME_MOST:
        return _absurd(written, "1000 L")
    if amount.unit == "%" and amount.value > 100.0:
        return _absurd(written, "100 %")
    if amount.kind == AmountKind.COUNT and amount.value > _COUNT_MOST:
        return _absurd(written, "100000 pieces")
    return None


def amount_is_packed(amount: Amount) -> bool:
    """Return whether these are several packs, each with a weight printed on it."""
    return amount.kind == AmountKind.COUNT and amount.unit in _PACKS and amount.value > 1


def amount_print(amount: Amount) -> str:
    """Return the amount as one writes it: "350 g", "1 1/2 cups", "3 large", "0.35%"."""
    is_spooned = amount.kind == AmountKind.COUNT or amount.unit in _SPOONED
    number = number_print(amount.value, has_fractions=is_spooned)
    if amount.kind == AmountKind.UNSTATED:
        return ""
    if amount.unit == "%":
        return f"{number}%"
    unit = UNITS[amount.unit]
    words = [number]
    if amount.size:
        words.append(amount.size)
    if unit.name != "each":
        words.append(unit.plural if amount.value > 1 else unit.name)
    return " ".join(words)


def _absurd(written: str, limit: str) -> LineProblem:
    return LineProblem(
        ProblemCode.ABSURD, f"{written} is more than {limit}.", "Check the number and the unit."
    )
