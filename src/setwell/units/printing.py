"""Print masses, volumes and percents for people: metric first, US beside on request."""

import math

from setwell.units.mass import mass_in
from setwell.units.volume import VOLUME_UNITS, volume_in

UNKNOWN = "unknown"


def mass_print(grams: float, *, has_us: bool = False) -> str:
    """Return "0.35 g", "12.5 g", "350 g" or "1.25 kg", with ounces beside if asked."""
    if not math.isfinite(grams):
        return UNKNOWN
    metric = _mass_metric(grams)
    return f"{metric} ({_mass_us(grams)})" if has_us else metric


def volume_print(milliliters: float, *, has_us: bool = False) -> str:
    """Return "2.5 mL", "240 mL" or "1.5 L", with US measures beside if asked."""
    if not math.isfinite(milliliters):
        return UNKNOWN
    size = abs(milliliters)
    if size >= 999.5:
        metric = f"{_trimmed(milliliters / 1000, 3 if size < 1e4 else 2)} L"
    else:
        metric = f"{_trimmed(milliliters, _digits(size))} mL"
    return f"{metric} ({_volume_us(milliliters)})" if has_us else metric


def percent_print(percent: float) -> str:
    """Return "0.35 %", "12.5 %": three digits that count."""
    if not math.isfinite(percent):
        return UNKNOWN
    size = abs(percent)
    digits = 3 if size < 0.1 else 2 if size < 10 else 1
    return f"{_trimmed(percent, digits)} %"


def _mass_metric(grams: float) -> str:
    size = abs(grams)
    if 0 < size < 0.01:
        return f"{_trimmed(grams * 1000, 2)} mg"
    if size < 999.5:
        return f"{_trimmed(grams, _digits(size))} g"
    kilograms = grams / 1000
    digits = 3 if size < 1e4 else 2 if size < 1e5 else 1
    return f"{_trimmed(kilograms, digits)} kg"


def _digits(size: float) -> int:
    # A pocket scale shows 0.01 g up to some tens of grams, a bench scale 1 g above.
    if size < 0.1:
        return 3
    if size < 10:
        return 2
    return 1 if size < 100 else 0


def _mass_us(grams: float) -> str:
    ounces = mass_in(abs(grams), "oz")
    if 0 < ounces < 0.0005:
        return "under 0.001 oz"
    sign = "-" if grams < 0 else ""
    pounds, rest = divmod(round(ounces, 1), 16)
    if pounds >= 1:
        return f"{sign}{pounds:.0f} lb {_trimmed(rest, 1)} oz" if rest else f"{sign}{pounds:.0f} lb"
    return f"{sign}{_trimmed(ounces, 1 if ounces >= 10 else 2 if ounces >= 0.1 else 3)} oz"


def _volume_us(milliliters: float) -> str:
    size = abs(milliliters)
    sign = "-" if milliliters < 0 else ""
    for name, upper in (("tsp", "tbsp"), ("tbsp", "cup"), ("cup", "quart"), ("quart", "")):
        share = 4 if name == "tbsp" else 1
        if not upper or size < VOLUME_UNITS[upper].factor * 0.97 / share:
            break
    value = volume_in(size, name)
    spoken, one = _spoken(value)
    unit = name if one else VOLUME_UNITS[name].plural
    return f"about {sign}{spoken} {unit}"


def _spoken(value: float) -> tuple[str, bool]:
    """Return the value in kitchen fractions and whether it is one or less."""
    if value < 1 / 16:
        return f"{value:.2f}", True
    fractions = (
        (0.0, ""), (1 / 8, "1/8"), (1 / 4, "1/4"), (1 / 3, "1/3"),
        (1 / 2, "1/2"), (2 / 3, "2/3"), (3 / 4, "3/4"), (1.0, ""),
    )  # fmt: skip
    whole = int(value)
    nearest, text = min(fractions, key=lambda pair: abs(value - whole - pair[0]))
    whole += nearest == 1.0
    spoken = f"{whole} {text}".strip() if whole else text or "0"
    return spoken, whole + (nearest % 1.0) <= 1


def _trimmed(value: float, digits: int) -> str:
    text = f"{value:.{digits}f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    return "0" if text == "-0" else text
