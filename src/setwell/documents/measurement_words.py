"""What was measured of a texture or a lot, in the words of pages and commands."""

import re

from setwell.documents.amounts import ounces_text
from setwell.domain.texture_reading import (
    LotCheck,
    LotTest,
    Outcome,
    PowderColor,
    PowderFlavor,
    TextureKind,
    TextureReading,
)
from setwell.units import fahrenheit_from_celsius

KIND_TITLES = {
    TextureKind.PENETRATION: "Load at break",
    TextureKind.FIRMNESS_PRESS: "Firmness under a press",
    TextureKind.SETTING_TEMPERATURE: "Setting temperature",
    TextureKind.MELTING_TEMPERATURE: "Melting temperature",
    TextureKind.VISCOSITY: "Thickness",
    TextureKind.OUTCOME: "What it did",
    TextureKind.WORD: "Trade word",
}
OUTCOME_WORDS = {
    Outcome.SET: "set",
    Outcome.SPREAD: "spread, not a slice",
    Outcome.DID_NOT_SET: "did not set",
    Outcome.THICKENED: "thickened",
    Outcome.STAYED_THIN: "stayed thin",
}
TEST_WORDS = {
    LotTest.POWDER_CONTROL: "control cup",
    LotTest.WATER_GEL: "gel in plain water",
    LotTest.POTASSIUM_GEL: "gel in water with potassium",
    LotTest.BLOOM: "Bloom strength",
    LotTest.MILK_GEL: "gel in milk",
    LotTest.WATER_VISCOSITY: "thickness in water",
}
COLOR_WORDS = {
    PowderColor.WHITE: "white",
    PowderColor.TAN: "tan",
    PowderColor.BROWN: "brown, little refined",
}
FLAVOR_WORDS = {PowderFlavor.NEUTRAL: "neutral", PowderFlavor.MARINE: "tastes of the sea"}
_BARE_CELSIUS = re.compile(r"(?P<number>\d+(?:\.\d+)?) °C(?! \()")
# Below an ounce only grams can be weighed.
_OUNCE_G = 28.0
_GRAMS = re.compile(r"(?P<grams>\d+(?:\.\d+)?) g\b(?! \()")


def kind_title(kind: str) -> str:
    """Return what a kind of reading, or a test of a lot, is called in a list.

    >>> kind_title("penetration"), kind_title("milk_gel")
    ('Load at break', 'Gel in milk')
    """
    if kind in set(TextureKind):
        return KIND_TITLES[TextureKind(kind)]
    word = TEST_WORDS[LotTest(kind)]
    return word[:1].upper() + word[1:]


def value_text(value: float | None, unit: str) -> str:
    """Return a measured value with its unit, temperatures in both scales.

    >>> value_text(310.0, "g"), value_text(41.5, "°C"), value_text(None, "g")
    ('310 g', '41.5 °C (107 °F)', '')
    """
    if value is None:
        return ""
    if unit == "°C":
        return f"{value:.3g} °C ({fahrenheit_from_celsius(value):.0f} °F)"
    return f"{value:,.0f} {unit}" if value >= 1000 else f"{value:.3g} {unit}"


def reading_told(reading: TextureReading) -> str:
    """Return one reading of a version in a few words.

    >>> reading_told(TextureReading(kind="penetration", value=310))
    'Load at break 310 g, plunger 12.7 mm'
    """
    title = KIND_TITLES[reading.kind]
    if reading.kind is TextureKind.OUTCOME and reading.outcome is not None:
        return f"{title}: {OUTCOME_WORDS[reading.outcome]}"
    if reading.kind is TextureKind.WORD:
        return f"{title}: {reading.word}"
    parts = [f"{title} {value_text(reading.value, reading.kind.unit)}"]
    if reading.kind.is_load:
        parts.append(f"plunger {reading.plunger_mm:g} mm")
    if reading.kind is TextureKind.FIRMNESS_PRESS:
        parts.append(f"{reading.depth_mm:g} mm deep")
    if reading.kind is TextureKind.VISCOSITY:
        parts.append(f"at {reading.shear_rate_per_s:g} 1/s")
    return ", ".join(parts)


def check_told(check: LotCheck) -> str:
    """Return one check of a lot in a few words.

    >>> check_told(LotCheck(agent="agar", kind="water_gel", values=(400, 420), dose_pct=1.5))
    'Gel in plain water 400 and 420 g, 1.5 %'
    """
    title = kind_title(check.kind.value)
    readings = " and ".join(f"{value:.4g}" for value in check.values)
    parts = [f"{title} {readings} {check.kind.measures.unit}" if readings else title]
    if check.outcome is not None:
        parts.append(OUTCOME_WORDS[check.outcome])
    if check.dose_pct is not None:
        parts.append(f"{check.dose_pct:g} %")
    if check.color is not None:
        parts.append(f"powder {COLOR_WORDS[check.color]}")
    if check.flavor is not None:
        parts.append(f"flavor {FLAVOR_WORDS[check.flavor]}")
    return ", ".join(parts)


def us_beside(text: str) -> str:
    """Return a sentence with °F beside each °C that has none, and ounces beside the grams.

    >>> us_beside("Heat to 60 °C (140 °F), chill at 4 °C.")
    'Heat to 60 °C (140 °F), chill at 4 °C (39 °F).'
    >>> us_beside("98.3 g deionized water"), us_beside("1.5 g kappa")
    ('98.3 g (3.47 oz) deionized water', '1.5 g kappa')
    """

    def both(match: re.Match[str]) -> str:
        return f"{match[0]} ({fahrenheit_from_celsius(float(match['number'])):.0f} °F)"

    def ounces(match: re.Match[str]) -> str:
        grams = float(match["grams"])
        beside = ounces_text(grams) if grams >= _OUNCE_G else ""
        return f"{match[0]} ({beside})" if beside else match[0]

    return _GRAMS.sub(ounces, _BARE_CELSIUS.sub(both, text))
