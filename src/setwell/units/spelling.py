"""How people write units: spellings, plurals, abbreviations."""

import re
from dataclasses import dataclass

from setwell.errors import UnitError
from setwell.units.count import COUNT_UNITS
from setwell.units.mass import MASS_UNITS
from setwell.units.unit import Unit
from setwell.units.volume import VOLUME_UNITS
from setwell.units.writing import text_clean, text_quote

UNITS: dict[str, Unit] = {**MASS_UNITS, **VOLUME_UNITS, **COUNT_UNITS}

# Extra spellings beside the name and the plural; lower case, "." and doubled spaces left out.
_ALSO = {
    "mg": "milligram milligrams",
    "g": "gr gm gms gram grams gramme grammes",
    "kg": "kgs kilo kilos kilogram kilograms kilogramme kilogrammes",
    "oz": "ozs ounce ounces",
    "lb": "lbs pound pounds",
    "mL": "mls cc milliliter milliliters millilitre millilitres",
    "cL": "centiliter centiliters centilitre centilitres",
    "dL": "deciliter deciliters decilitre decilitres",
    "L": "lt ltr liter liters litre litres",
    "tsp": "tsps teaspoon teaspoons",
    "tbsp": "tbsps tbs tbl tbls tblsp tablespoon tablespoons",
    "fl oz": "floz fl_ozs fluid_oz fluid_ounce fluid_ounces",
    "pint": "pt pts",
    "quart": "qt qts",
    "gallon": "gal gals",
    "each": "ea",
    "piece": "pc pcs",
    "can": "tin tins",
    "packet": "pack packs package packages pkg pkt pkts envelope envelopes sachet sachets",
}
_SYSTEMS = {"us": "", "metric": "metric ", "imp": "imp ", "imperial": "imp "}

_BARE = {name: unit for name, unit in UNITS.items() if not name.startswith(("metric ", "imp "))}
_SPELLINGS: dict[str, Unit] = {}
for _name, _unit in _BARE.items():
    for _word in (_name, _unit.plural, *_ALSO.get(_name, "").split()):
        _SPELLINGS[_word.replace("_", " ").lower()] = _unit

# One letter that means two things, and measures nobody can weigh.
_TWO_WAYS = {
    "T": 'A capital "T" is easily confused with "t".',
    "t": 'A small "t" is easily confused with "T".',
    "c": '"c" can be a cup, a clove or a can.',
    "C": '"C" can be a cup or a temperature.',
}
_VAGUE = {
    *("handful", "handfuls", "glug", "glugs", "splash", "splashes", "knob", "knobs"),
    *("scoop", "scoops", "part", "parts", "glass", "glasses", "spoon", "spoons"),
    *("spoonful", "spoonfuls", "dessertspoon", "dessertspoons", "dollop", "dollops"),
    *("drizzle", "jigger", "jiggers", "shot", "shots", "gill", "gills"),
    *("ppm", "ppb", "mcg", "inch", "inches"),
}

_WORDS = sorted((*_SPELLINGS, *_VAGUE, "t", "c"), key=len, reverse=True)
UNIT_PATTERN = (
    r"(?:(?:u\.?s\.?|metric|imp(?:erial|\.)?) )?(?:"
    + "|".join(re.escape(word).replace(r"\ ", r"\.? ?") for word in _WORDS)
    + ")"
)
_LEAD = re.compile(rf" ?-?({UNIT_PATTERN})(?![A-Za-z0-9]|-[A-Za-z])\.?", re.IGNORECASE)
_SYSTEM = re.compile(r"(us|metric|imperial|imp) (.+)\Z")


@dataclass(frozen=True, slots=True)
class UnitFault:
    """Why a text is not one usable unit."""

    message: str
    hint: str


def unit_find(text: str, *, field: str = "") -> Unit:
    """Return the unit written as `text`, or raise UnitError that says what to write."""
    found = unit_read(text)
    if isinstance(found, UnitFault):
        raise UnitError(found.message, field=field, hint=found.hint)
    return found


def unit_read(text: str) -> Unit | UnitFault:
    """Return the unit, or why the text is none."""
    written = text_clean(text).strip(".")
    if written in _TWO_WAYS:
        return UnitFault(_TWO_WAYS[written], "Write tsp, tbsp, cup or g.")
    key = " ".join(written.lower().replace(".", " ").replace("u s ", "us ").split())
    if key in _SPELLINGS:
        return _SPELLINGS[key]
    system = _SYSTEM.match(key)
    if system and system[2] in _SPELLINGS:
        name = _SYSTEMS[system[1]] + _SPELLINGS[system[2]].name
        if name in UNITS:
            return UNITS[name]
    if key in _VAGUE:
        return UnitFault(
            f"{text_quote(written)} has no fixed size.", "Weigh it once and write grams."
        )
    return UnitFault(
        f"{text_quote(written)} is not a known unit.",
        "Use g, kg, oz, lb, mL, L, tsp, tbsp or cup.",
    )


def unit_lead(text: str) -> tuple[str, str] | None:
    """Return the unit written at the start and what follows it, or None."""
    match = _LEAD.match(text)
    return (match[1], text[match.end() :]) if match else None
