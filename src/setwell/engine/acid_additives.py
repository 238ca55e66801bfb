"""What a kitchen reaches for to move a pH: acids, sour juices, buffers and bases."""

from collections.abc import Mapping
from dataclasses import dataclass
from functools import cache

from setwell.engine.catalog import Catalog
from setwell.engine.food_materials import food_materials
from setwell.engine.material import Material
from setwell.engine.names import name_normalize, names_nearest
from setwell.engine.saturation import dissolves_at_most
from setwell.errors import UnknownNameError
from setwell.units import text_quote

# Nobody stirs in more than this, per mass of water in the batch [kg/kg] (our judgment).
_MOST_POWDER, _MOST_LIQUID = 0.2, 0.5
_BINDS = "binds calcium and magnesium, which iota, gellan, alginate and pectin may need"
_FOAMS = "foams: in a hot or stirred batch the gas leaves, the pH rises further and less is enough"


@dataclass(frozen=True, slots=True, eq=False)
class AcidAdditive:
    """One acid or buffer as sold; `most` and `dissolves` in kg per kg of water.

    `dissolves` is None where it is not known, or where water takes up any amount.
    """

    key: str
    name: str
    is_acid: bool
    material: Material
    most: float
    dissolves: float | None
    remark: str


# Key of the food, name in the kitchen and a remark.
_Entry = tuple[str, str, str]

_ACIDS: tuple[_Entry, ...] = (
    ("citric_acid", "citric acid", ""),
    ("malic_acid", "malic acid", ""),
    ("tartaric_acid", "tartaric acid", "with potassium it may leave crystals in the cold"),
    ("lactic_acid", "lactic acid", "counted pure; an 80 % solution needs a quarter more"),
    ("ascorbic_acid", "ascorbic acid", "fades with air and heat"),
    ("vinegar_distilled", "white vinegar", "counted with 5 % acid; see the label"),
    ("vinegar_cider", "cider vinegar", "counted with 5 % acid; see the label"),
    ("juice_lemon", "lemon juice", "lots differ; taste it"),
    ("juice_lime", "lime juice", "lots differ; taste it"),
    ("glucono_delta_lactone", "glucono-delta-lactone", "slow: the pH falls over hours"),
)
_BASES: tuple[_Entry, ...] = (
    ("sodium_citrate_dihydrate", "trisodium citrate", _BINDS),
    ("potassium_citrate_monohydrate", "tripotassium citrate", f"{_BINDS}; bitter"),
    ("baking_soda", "baking soda", _FOAMS),
    ("disodium_phosphate", "disodium phosphate", _BINDS),
    ("potassium_carbonate", "potassium carbonate", f"caustic as a powder; {_FOAMS}"),
)
CITRATE_BUFFER, CITRIC_ACID = "sodium_citrate_dihydrate", "citric_acid"


def additives(catalog: Catalog | None = None) -> tuple[AcidAdditive, ...]:
    """Return all additives, acids first; with a catalog its own pH readings of juices count."""
    return _tables_only() if catalog is None else _listed(catalog.materials)


@cache
def _tables_only() -> tuple[AcidAdditive, ...]:
    return _listed(food_materials())


def _listed(materials: Mapping[str, Material]) -> tuple[AcidAdditive, ...]:
    return (
        *(_additive(entry, materials, is_acid=True) for entry in _ACIDS),
        *(_additive(entry, materials, is_acid=False) for entry in _BASES),
    )


def _additive(entry: _Entry, materials: Mapping[str, Material], *, is_acid: bool) -> AcidAdditive:
    key, name, remark = entry
    material = materials[key]
    dissolves = dissolves_at_most(material)
    most = _MOST_LIQUID if material.is_liquid else _MOST_POWDER
    return AcidAdditive(key, name, is_acid, material, most, dissolves, remark)


def additive_find(name: str, catalog: Catalog | None = None) -> AcidAdditive:
    """Return the additive that a key or a kitchen name stands for.

    Raises UnknownNameError with the nearest names when none of them is meant.
    """
    known = additives(catalog)
    by_name = {name_normalize(word): one for one in known for word in (one.name, one.key)}
    found = by_name.get(name_normalize(name))
    if found is None and catalog is not None and (other := catalog.find(name)) is not None:
        found = next((one for one in known if one.key == other.material.key), None)
    if found is not None:
        return found
    names = [one.name for one in known]
    near = tuple(one for one in names_nearest(name, names) if one in names)
    raise UnknownNameError(
        f"{text_quote(name)} is not one of the acids and buffers that a dose is worked out for.",
        field="additive",
        hint=f"Choose one of {', '.join(near or names)}.",
        nearest=near,
    )
