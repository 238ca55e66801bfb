"""Kinds of bases: within one, a law is off by about the same."""

from enum import StrEnum

from setwell.engine.pipeline import BatchState

# Above which share of a thing a base is called after it (our judgment).
_ALCOHOL_BY_VOLUME_PCT = 5.0
_ACID_PH = 4.6
_MILK_PROTEIN_SHARE = 0.005
_BRIX = 30.0
_SODIUM_MMOL_KG = 150.0


class Base(StrEnum):
    """What a batch mostly is, as far as gels care."""

    ALCOHOLIC = "alcoholic"
    ACID = "acid"
    DAIRY = "dairy"
    SUGAR_RICH = "sugar-rich"
    SALTY = "salty"
    WATERY = "watery"


def base_of(state: BatchState, *, row: int = 0) -> Base:
    """Return the kind of base of one batch; the first rule that holds names it.

    Alcoholic from 5 % by volume, acid below pH 4.6, dairy from 0.5 % of milk protein, sugar-rich
    from 30 °Brix in the water phase, salty from 150 mmol of sodium per kg of water (about 0.9 %
    salt), and watery otherwise. What destroys gels comes before what strengthens them.
    """
    water = state.water
    if water.alcohol_by_volume.value[row] >= _ALCOHOL_BY_VOLUME_PCT:
        return Base.ALCOHOLIC
    if water.has_ph[row] and water.ph.value[row] < _ACID_PH:
        return Base.ACID
    if water.milk_protein_share[row] >= _MILK_PROTEIN_SHARE:
        return Base.DAIRY
    if water.brix.value[row] >= _BRIX:
        return Base.SUGAR_RICH
    if water.ions["sodium"].value[row] >= _SODIUM_MMOL_KG:
        return Base.SALTY
    return Base.WATERY
