"""Kinds of texture measurements, what they repeat to, and which values cannot be."""

import math
from collections.abc import Mapping
from enum import StrEnum

# The half inch of the Bloom plunger, and the one square centimeter of gel testers.
BLOOM_PLUNGER_MM, SQUARE_CM_PLUNGER_MM, BLOOM_DEPTH_MM = 12.7, 11.28, 4.0
# What hands, a kitchen scale and a probe repeat to (common practice, no source).
LOAD_PLUS_MINUS_PCT, VISCOSITY_PLUS_MINUS_PCT, TEMPERATURE_PLUS_MINUS_K = 20.0, 20.0, 2.0
# The firmest food gels break well below this stress (our judgment); above it a unit is wrong.
_STRESS_MOST_KPA = 300.0
# Standard acceleration of free fall; a gram on a square millimeter is so many kPa.
_G_TO_KPA_MM2 = 9.80665


class TextureKind(StrEnum):
    """What was measured of a version."""

    SETTING_TEMPERATURE = "setting_temperature"
    MELTING_TEMPERATURE = "melting_temperature"
    PENETRATION = "penetration"
    FIRMNESS_PRESS = "firmness_press"
    VISCOSITY = "viscosity"
    OUTCOME = "outcome"
    WORD = "word"

    @property
    def unit(self) -> str:
        """Unit of the measured value; empty where there is none."""
        return _UNITS[self]

    @property
    def is_temperature(self) -> bool:
        """True for setting and melting."""
        return self in {self.SETTING_TEMPERATURE, self.MELTING_TEMPERATURE}

    @property
    def is_load(self) -> bool:
        """True where a plunger presses on a scale."""
        return self in {self.PENETRATION, self.FIRMNESS_PRESS}


_UNITS = {
    TextureKind.SETTING_TEMPERATURE: "°C",
    TextureKind.MELTING_TEMPERATURE: "°C",
    TextureKind.PENETRATION: "g",
    TextureKind.FIRMNESS_PRESS: "g",
    TextureKind.VISCOSITY: "mPa·s",
    TextureKind.OUTCOME: "",
    TextureKind.WORD: "",
}


class Outcome(StrEnum):
    """What it looked like, without any tool."""

    SET = "set"
    SPREAD = "spread"
    DID_NOT_SET = "did_not_set"
    THICKENED = "thickened"
    STAYED_THIN = "stayed_thin"


class LotTest(StrEnum):
    """Standard tests of a powder."""

    WATER_GEL = "water_gel"
    POTASSIUM_GEL = "potassium_gel"
    BLOOM = "bloom"
    MILK_GEL = "milk_gel"
    POWDER_CONTROL = "powder_control"
    WATER_VISCOSITY = "water_viscosity"

    @property
    def measures(self) -> TextureKind:
        """What a test reads off."""
        if self is LotTest.POWDER_CONTROL:
            return TextureKind.OUTCOME
        if self is LotTest.WATER_VISCOSITY:
            return TextureKind.VISCOSITY
        return TextureKind.FIRMNESS_PRESS if self is LotTest.BLOOM else TextureKind.PENETRATION


class PowderColor(StrEnum):
    """How refined a powder looks."""

    WHITE = "white"
    TAN = "tan"
    BROWN = "brown"


class PowderFlavor(StrEnum):
    """What a powder brings along to the nose."""

    NEUTRAL = "neutral"
    MARINE = "marine"


def plunger_of(test: LotTest, plunger_mm: float | None) -> float:
    """Return the plunger of a test in mm: the usual one where none was given."""
    if plunger_mm is not None:
        return plunger_mm
    return SQUARE_CM_PLUNGER_MM if test is LotTest.POTASSIUM_GEL else BLOOM_PLUNGER_MM


def doubt_of(kind: TextureKind, plus_minus: float | None) -> float:
    """Return what a reading repeats to: as stated, or as tools of its kind usually do."""
    if plus_minus is not None:
        return plus_minus
    if kind.is_temperature:
        return TEMPERATURE_PLUS_MINUS_K
    return VISCOSITY_PLUS_MINUS_PCT if kind is TextureKind.VISCOSITY else LOAD_PLUS_MINUS_PCT


_TEMPERATURES: Mapping[TextureKind, tuple[float, float, str]] = {
    TextureKind.SETTING_TEMPERATURE: (-5.0, 99.0, "sets"),
    TextureKind.MELTING_TEMPERATURE: (0.0, 120.0, "melts"),
}


def value_check(kind: TextureKind, value: float | None, *, plunger_mm: float) -> None:
    """Raise ValueError where a measured value cannot be, saying what to do about it."""
    if not kind.unit:
        return
    if value is None:
        raise ValueError(f"give the reading in {kind.unit}")
    if kind.is_temperature:
        low, high, verb = _TEMPERATURES[kind]
        if not low <= value <= high:
            raise ValueError(
                f"{value:g} °C: nothing {verb} there; it should be between {low:g} and {high:g} "
                "°C. Check whether it was °F, or read on the way up instead of down"
            )
    elif kind.is_load:
        _load_check(value, plunger_mm)
    elif not 0.3 <= value <= 1e8:
        raise ValueError(
            f"{value:g} mPa·s: water has 1 and a stiff paste a million. Check the unit: "
            "1 Pa·s is 1000 mPa·s, 1 cP is 1 mPa·s"
        )


def _load_check(load_g: float, plunger_mm: float) -> None:
    if load_g <= 0:
        raise ValueError(
            f"{load_g:g} g: the plunger met nothing. Set the scale to zero with the cup on it, "
            "or record that it did not set"
        )
    stress = load_g * _G_TO_KPA_MM2 / (math.pi * plunger_mm**2 / 4.0)
    if stress > _STRESS_MOST_KPA:
        most = _STRESS_MOST_KPA * math.pi * plunger_mm**2 / 4.0 / _G_TO_KPA_MM2
        raise ValueError(
            f"{load_g:g} g on a plunger of {plunger_mm:g} mm: no food gel carries that; at most "
            f"about {most:.0f} g. Check the grams, and whether the plunger stood on the bottom"
        )


def depth_check(depth_mm: float | None, *, plunger_mm: float) -> None:
    """Raise ValueError unless a press is shallow against its plunger."""
    if depth_mm is None:
        raise ValueError("give how deep the plunger was pressed, in mm; 4 mm is usual")
    if depth_mm > plunger_mm:
        raise ValueError(
            f"{depth_mm:g} mm deep under a plunger of {plunger_mm:g} mm tells how it breaks, not "
            "how firm it is. Press less deep, or record the load at which it broke"
        )


def viscosity_check(rate: float | None, temperature_c: float | None) -> None:
    """Raise ValueError unless a viscosity says how fast and how warm."""
    if rate is None:
        raise ValueError(
            "give the shear rate in 1/s: without it a viscosity cannot be compared; "
            "stirring and pouring are about 50"
        )
    if temperature_c is None:
        raise ValueError("give the temperature of the sample too: warm is thinner than cold")
