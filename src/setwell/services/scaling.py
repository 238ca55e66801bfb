"""Scale a formula to a weight, to portions or to molds, on the kitchen's own scale."""

from dataclasses import dataclass

from setwell.domain.formula import Formula
from setwell.engine.scaled_batch import BatchYield
from setwell.engine.scaling import ScaledFormula, scale
from setwell.errors import InputError
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for

__all__ = ["BatchYield", "CardBatch", "ScaledFormula", "batch_scaled", "formula_scale"]

# A batch this near to the one as written is that one [share].
_SAME = 0.0005


@dataclass(frozen=True, slots=True)
class CardBatch:
    """A batch to weigh: all that goes in [g], on which scale, and what it was asked to make."""

    grams: float
    readability_g: float | None = None
    makes: BatchYield | None = None


def batch_scaled(*, formula: Formula, batch: CardBatch) -> ScaledFormula | None:
    """Return the weights of a batch; None for the one as written, which is weighed as typed."""
    made = formula_scale(formula=formula, batch_g=batch.grams, readability_g=batch.readability_g)
    return None if abs(made.factor - 1.0) <= _SAME else made


def formula_scale(
    *,
    formula: Formula,
    to_grams: float | None = None,
    portions_of: tuple[int, float] | None = None,
    molds: tuple[int, float] | None = None,
    batch_g: float | None = None,
    readability_g: float | None = None,
) -> ScaledFormula:
    """Return the formula at another size; give exactly one of the four targets.

    `portions_of` is (count, grams each), `molds` (count, mL each), `batch_g` all that is weighed
    in; the others are what is left to serve. Without a readability the
    one of the kitchen's scale is used.
    """
    targets = [one for one in (to_grams, portions_of, molds, batch_g) if one is not None]
    if len(targets) != 1:
        raise InputError(
            f"{len(targets)} targets were given; scaling needs exactly one.",
            hint="Give a weight, portions, molds or a batch.",
        )
    catalog = kitchen_catalog()
    return scale(
        formula,
        catalog=catalog,
        parts=parts_for(formula),
        to_grams=to_grams,
        portions_of=portions_of,
        molds=molds,
        batch_g=batch_g,
        readability_g=catalog.kitchen.scale_readability_g
        if readability_g is None
        else readability_g,
    )
