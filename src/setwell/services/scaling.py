"""Scale a formula to a weight, to portions or to molds, on the kitchen's own scale."""

from setwell.domain.formula import Formula
from setwell.engine.scaling import ScaledFormula, scale
from setwell.errors import InputError
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for


def formula_scale(
    *,
    formula: Formula,
    to_grams: float | None = None,
    portions_of: tuple[int, float] | None = None,
    molds: tuple[int, float] | None = None,
    readability_g: float | None = None,
) -> ScaledFormula:
    """Return the formula at another size; give exactly one of the three targets.

    `portions_of` is (count, grams each), `molds` (count, mL each). Without a readability the
    one of the kitchen's scale is used.
    """
    targets = [target for target in (to_grams, portions_of, molds) if target is not None]
    if len(targets) != 1:
        raise InputError(
            f"{len(targets)} targets were given; scaling needs exactly one.",
            hint="Give a weight, or portions, or molds.",
        )
    catalog = kitchen_catalog()
    return scale(
        formula,
        catalog=catalog,
        parts=parts_for(formula),
        to_grams=to_grams,
        portions_of=portions_of,
        molds=molds,
        readability_g=catalog.kitchen.scale_readability_g
        if readability_g is None
        else readability_g,
    )
