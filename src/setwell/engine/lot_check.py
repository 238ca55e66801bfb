"""Standard tests of a powder: which fit an agent, as a formula, and what the result means."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.formula import Formula, formula_make
from setwell.domain.texture_reading import LotTest
from setwell.engine.gelling.parameters import parameter
from setwell.errors import InputError, MissingDataError, UnknownNameError
from setwell.tables.agents import AgentRow, agent_rows

# Grams in 100 g of the potassium test, with 1.5 % of powder (common practice, no source).
POTASSIUM_CHLORIDE_G = 0.2
# Calcium salt that lets iota and gellan set in deionized water (our judgment).
_CALCIUM_LACTATE_G = 0.2
_EXPONENT = 2.0


class Family(StrEnum):
    """How an agent is made to show what it can do."""

    POTASSIUM = "potassium"
    CALCIUM_COOLED = "calcium, then cooling"
    COOLED = "cooling"
    GELATIN = "gelatin"
    CALCIUM_BATH = "calcium"
    LOW_SUGAR_PECTIN = "calcium and a little acid"
    SUGAR_ACID = "sugar and acid"
    HEATED = "heating"
    STARCH = "boiling starch"
    COLD_STARCH = "instant starch"
    THICKENER_HOT = "thickening after a boil"
    THICKENER_COLD = "thickening cold"
    EMULSIFIER = "dissolving"

    @property
    def gels(self) -> bool:
        """True where a good powder sets in its control cup."""
        return self not in _THIN


# Their control cup has a bath, sugar, acid or heat that the plain test batch has not.
OWN_CUP = frozenset(
    {Family.CALCIUM_BATH, Family.LOW_SUGAR_PECTIN, Family.SUGAR_ACID, Family.HEATED}
)
_THIN = frozenset(
    {
        Family.STARCH, Family.COLD_STARCH, Family.THICKENER_HOT, Family.THICKENER_COLD,
        Family.EMULSIFIER,
    }
)  # fmt: skip
_BY_KEY = {
    "kappa_carrageenan": Family.POTASSIUM,
    "processed_eucheuma": Family.POTASSIUM,
    "kappa_LBG": Family.POTASSIUM,
    "kappa_konjac": Family.POTASSIUM,
    "iota_carrageenan": Family.CALCIUM_COOLED,
    "gellan_LA": Family.CALCIUM_COOLED,
    "gellan_HA": Family.COOLED,
    "agar": Family.COOLED,
    "xanthan_LBG": Family.COOLED,
    "gelatin": Family.GELATIN,
    "gelatin_fish_cold": Family.GELATIN,
    "sodium_alginate": Family.CALCIUM_BATH,
    "pectin_LM": Family.LOW_SUGAR_PECTIN,
    "pectin_LMA": Family.LOW_SUGAR_PECTIN,
    "starch_pregel": Family.COLD_STARCH,
    "locust_bean_gum": Family.THICKENER_HOT,
    "tara": Family.THICKENER_HOT,
    "konjac": Family.THICKENER_HOT,
}
_BY_KIND = {
    "sugar-acid gel": Family.SUGAR_ACID,
    "heat-set gel": Family.HEATED,
    "emulsifier": Family.EMULSIFIER,
    "thickener": Family.THICKENER_COLD,
    "cold-set gel": Family.COOLED,
    "ion-set gel": Family.CALCIUM_BATH,
    "thickener and gel": Family.THICKENER_HOT,
    "blend": Family.COOLED,
}
_MILK = frozenset({"kappa_carrageenan", "iota_carrageenan", "processed_eucheuma"})
# Usual doses in percent of the test batch (common practice, no source).
_DOSES = {
    LotTest.WATER_GEL: 1.5,
    LotTest.POTASSIUM_GEL: 1.5,
    LotTest.BLOOM: 6.67,
    LotTest.MILK_GEL: 0.5,
    LotTest.POWDER_CONTROL: 1.0,
    LotTest.WATER_VISCOSITY: 1.0,
}
_LIQUIDS = {LotTest.MILK_GEL: "whole milk", LotTest.POWDER_CONTROL: "water"}
# Where gelatin is tested; cold-water fish gelatin sets only near freezing [°C].
_COLD = {"gelatin": 10.0, "gelatin_fish_cold": 4.0}
_STARCH_DOSE, _EMULSIFIER_DOSE, _GELLAN_DOSE, _GELATIN_DOSE = 5.0, 20.0, 0.5, 3.0


@dataclass(frozen=True, slots=True)
class LotTestFormula:
    """A standard test as a formula the engine can compute."""

    formula: Formula
    dose_pct: float


def agent_row(agent: str) -> AgentRow:
    """Return the table row of an agent by its key."""
    try:
        return agent_rows()[agent]
    except KeyError:
        raise UnknownNameError(f"“{agent}” is not an agent of the tables.", field="agent") from None


def line_name(agent: str) -> str:
    """Return what a kitchen line calls an agent; a comma would start a remark there."""
    return agent_row(agent).short_name.replace(",", "")


def family_of(agent: str) -> Family:
    """Return how this agent is made to show what it can do."""
    if agent in _BY_KEY:
        return _BY_KEY[agent]
    kind = agent_row(agent).kind
    is_starch = agent.startswith("starch") and kind != "emulsifier"
    return Family.STARCH if is_starch else _BY_KIND[kind]


def lot_tests_of(agent: str) -> tuple[LotTest, ...]:
    """Return the standard tests that fit an agent, the quickest first."""
    family = family_of(agent)
    found = [LotTest.POWDER_CONTROL]
    if family in {Family.POTASSIUM, Family.CALCIUM_COOLED, Family.COOLED, Family.GELATIN}:
        found.append(LotTest.WATER_GEL)
    if family is Family.POTASSIUM:
        found.append(LotTest.POTASSIUM_GEL)
    if agent == "gelatin":
        found.append(LotTest.BLOOM)
    if agent in _MILK:
        found.append(LotTest.MILK_GEL)
    if not family.gels or family in {Family.CALCIUM_BATH, Family.HEATED, Family.LOW_SUGAR_PECTIN}:
        found.append(LotTest.WATER_VISCOSITY)
    return tuple(found)


def usual_dose(agent: str, test: LotTest) -> float:
    """Return the usual dose of a test, in percent."""
    family = family_of(agent)
    if test in {LotTest.POWDER_CONTROL, LotTest.WATER_VISCOSITY}:
        if family in {Family.STARCH, Family.COLD_STARCH}:
            return _STARCH_DOSE
        if family is Family.EMULSIFIER:
            return _EMULSIFIER_DOSE
    if family is Family.GELATIN and test is not LotTest.BLOOM:
        return _GELATIN_DOSE
    if agent.startswith("gellan"):
        return _GELLAN_DOSE
    return _DOSES[test]


def lot_test_formula(
    agent: str,
    test: LotTest,
    *,
    dose_pct: float | None = None,
    name: str = "",
    serving_c: float | None = None,
) -> LotTestFormula:
    """Return a standard test as a formula of 100 g; `name` is what a line calls the powder."""
    if test not in lot_tests_of(agent):
        offer = ", ".join(one.value.replace("_", " ") for one in lot_tests_of(agent))
        raise InputError(
            f"{agent_row(agent).name} says nothing in the test “{test.value.replace('_', ' ')}”.",
            field="kind",
            hint=f"Tests that fit it: {offer}.",
        )
    dose = usual_dose(agent, test) if dose_pct is None else dose_pct
    salt = _salt(agent, test)
    liquid = _LIQUIDS.get(test, "deionized water")
    rest = 100.0 - dose - sum(grams for grams, _ in salt)
    lines = [f"{rest:.4g} g {liquid}", f"{dose:.4g} g {name or line_name(agent)}"]
    lines += [f"{grams:.4g} g {what}" for grams, what in salt]
    cold = _COLD.get(agent, 20.0)
    served = cold if serving_c is None else serving_c
    return LotTestFormula(
        formula_make(
            title=f"Lot test: {test.value.replace('_', ' ')}",
            ingredients="\n".join(lines),
            steps="\n".join(_steps(agent, test, min(cold, served))),
            serving_temperature_c=served,
        ),
        dose,
    )


def _salt(agent: str, test: LotTest) -> tuple[tuple[float, str], ...]:
    if test is LotTest.POTASSIUM_GEL:
        return ((POTASSIUM_CHLORIDE_G, "potassium chloride"),)
    if test is not LotTest.MILK_GEL and family_of(agent) is Family.CALCIUM_COOLED:
        return ((_CALCIUM_LACTATE_G, "calcium lactate"),)
    return ()


def _steps(agent: str, test: LotTest, cold: float) -> tuple[str, ...]:
    if family_of(agent) is Family.GELATIN:
        hours = 17 if test is LotTest.BLOOM else 4
        return (
            "Soak the powder in the cold water for 10 min.",
            "Heat to 60 °C, stirring, and hold for 10 min.",
            f"Chill at {cold:g} °C for {hours} h.",
        )
    if family_of(agent) is Family.HEATED:
        return (
            "Whisk the powder into the water at 90 °C.",
            "Chill at 4 °C for 12 h, stirring.",
        )
    return (
        "Whisk the powder into the cold liquid.",
        "Bring to a boil, stirring, and hold for 2 min.",
        f"Chill to {cold:g} °C for 4 h.",
    )


def strength_exponent(agent: str, *, is_flow: bool = False) -> tuple[float, bool]:
    """Return the power of the dose that strength grows with, and whether the tables know it."""
    names = ("viscosity_exponent_entangled",) if is_flow else ("modulus_exponent",)
    for name in names:
        try:
            return parameter(agent, name).value, True
        except MissingDataError:
            continue
    return _EXPONENT, False


def dose_factor(strength: float, *, exponent: float) -> float:
    """Return what to multiply a dose by, so that a lot of this strength sets as usual."""
    if not strength > 0 or not exponent > 0:
        raise InputError(f"A lot of strength {strength:g} cannot be made up for by its dose.")
    return float((1.0 / strength) ** (1.0 / exponent))
