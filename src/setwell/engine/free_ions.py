"""The ions that are free to gel: not held by milk, citrate or phosphate."""

from dataclasses import dataclass
from functools import cache, lru_cache
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_side import system_index, systems_at, water_at
from setwell.engine.acidity import Acidity
from setwell.engine.material import MINERALS, NUTRIENT_INDEX, Material
from setwell.engine.row_products import row_products
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.solution.binding import form_share, free_metals_at_ph
from setwell.tables.solution import Complex, acid_systems, complexes, milk_salts

Array = NDArray[np.float64]

# Charge of each cation that acids hold. Calcium and magnesium are held by milk too.
_CHARGE = {"calcium": 2, "magnesium": 2, "potassium": 1, "sodium": 1}
METALS = tuple(_CHARGE)
_OF_MILK = ("calcium", "magnesium")
_ATOMIC = {"calcium": 40.078, "magnesium": 24.305}
_CELSIUS = 25.0
# Native pH of milk, and the pH where its colloidal calcium phosphate is gone.
_MILK_PH = 6.7
# Milk gives calcium from its micelles to a sequestrant, which the balance leaves out: up to this
# share of what was free may stay free (our judgment).
_MILK_RESERVE = 0.4
# Doubt in a stability constant, as a factor on what is bound (our judgment).
_BOUND_DOUBT = 1.6


@dataclass(frozen=True, slots=True)
class FreeIons:
    """Free ions, and all that is dissolved at this pH, in mmol per kg of water.

    `calcium_held` is the share of the dissolved calcium that is not free.
    """

    metals: dict[str, Spans]
    dissolved: dict[str, Spans]
    calcium_held: Array

    @property
    def calcium(self) -> Spans:
        """Free calcium."""
        return self.metals["calcium"]

    @property
    def potassium(self) -> Spans:
        """Free potassium."""
        return self.metals["potassium"]


def free_ions(
    masses: Array,
    materials: tuple[Material, ...],
    water_g: Array,
    acids: Acidity,
    dissolved: dict[str, Spans],
) -> FreeIons:
    """Return the free metals of n batches; `dissolved` are the dissolved ones in mmol/kg."""
    whole, serum = _milk_salts(masses, materials, water_g)
    acid_share = _acid_share(acids.ph.value)
    # The acid takes what the micelles held into the water.
    freed = (whole - serum) * acid_share
    in_water = dict(dissolved)
    for metal, part in zip(_OF_MILK, freed, strict=True):
        in_water[metal] = Spans(*(bound + part for bound in dissolved[metal]))
    value, low, high = np.array([dissolved[metal] for metal in METALS]).transpose(1, 0, 2)
    available, reserve = value.copy(), np.zeros_like(value)
    held = slice(0, len(_OF_MILK))
    available[held] = _available(value[held], serum, freed, acid_share)
    reserve[held] = np.where(serum > 0, _MILK_RESERVE * available[held], 0.0)
    free = _free(available.T / 1000.0, acids).T * 1000.0
    spans = _spans(free, available, Spans(value, low, high), reserve=reserve)
    found = {metal: Spans(*(part[row] for part in spans)) for row, metal in enumerate(METALS)}
    calcium = in_water["calcium"].value
    left = np.divide(free[0], calcium, out=np.ones_like(calcium), where=calcium > 0)
    return FreeIons(found, in_water, np.minimum(np.maximum(1.0 - left, 0.0), 1.0))


def _milk_salts(
    masses: Array, materials: tuple[Material, ...], water_g: Array
) -> tuple[Array, Array]:
    """Return what milk brings, all of it and what counts as dissolved, (2 metals, n) mmol/kg."""
    amounts = row_products(masses, _milk_per_gram(materials))
    kilograms = water_g / 1000.0
    per_kg = np.divide(amounts.T, kilograms, out=np.zeros(amounts.T.shape), where=kilograms > 0)
    return per_kg[: len(_OF_MILK)], per_kg[len(_OF_MILK) :]


@lru_cache(maxsize=256)
def _milk_per_gram(materials: tuple[Material, ...]) -> Array:
    """Return mmol per g that milk brings: all of both metals, then what counts as dissolved."""
    found = np.zeros((len(materials), 2, len(_OF_MILK)))
    for row, material in enumerate(materials):
        if material.group not in {"dairy", "cheese"} or not material.has_allergen("milk"):
            continue
        for column, metal in enumerate(_OF_MILK):
            content = np.nan_to_num(material.nutrients[NUTRIENT_INDEX[f"{metal}_mg"]])
            share = (
                1.0 if material.dissolved is None else material.dissolved[0, MINERALS.index(metal)]
            )
            per_gram = float(content) / 100.0 / _ATOMIC[metal]
            found[row, :, column] = per_gram, per_gram * share
    return found.reshape(len(materials), 2 * len(_OF_MILK))


def _available(dissolved: Array, serum: Array, freed: Array, acid_share: Array) -> Array:
    """Return what is not held by milk itself: free ions before other acids take their share.

    Milk's colloidal calcium phosphate dissolves on acidification, and below pH 5 the citrate
    and phosphate of its serum let go of most of what they hold.
    """
    native = np.array([[_native_free_share(metal)] for metal in _OF_MILK])
    loose = native + (1.0 / _held_below_five() - native) * acid_share
    return np.asarray(np.maximum(dissolved - serum, 0.0) + (serum + freed) * loose)


def _acid_share(ph: Array) -> Array:
    """Return how far the acid has gone from the pH of milk to where the micelles hold nothing."""
    share = (_MILK_PH - ph) / (_MILK_PH - _gone_below())
    return np.asarray(np.minimum(np.maximum(share, 0.0), 1.0))


@cache
def _gone_below() -> float:
    return float(milk_salts()["colloidal_phosphate", "dissolved_below_ph"].value)


@cache
def _native_free_share(metal: str) -> float:
    """Share of the dissolved metal of fresh milk that is a free ion."""
    salts = milk_salts()
    free = salts[metal, "in_diffusate"].value
    total = salts[metal, "dissolved"].value / _ATOMIC[metal]
    return float(free / total)


@cache
def _held_below_five() -> float:
    return float(milk_salts()["calcium", "serum_per_free_below_ph_5"].value)


class _Held(NamedTuple):
    """Complexes that may hold a metal: where each stands, and the form of the acid it takes."""

    items: tuple[Complex, ...]
    # Row of each metal, row of each acid among all systems.
    metals: tuple[int, ...]
    systems: tuple[int, ...]
    log_k: Array
    # Change of the squared charges, which makes a complex weaker with the ionic strength.
    squares: Array
    # Ionic strength that each constant is given at.
    given_at: Array


@cache
def _relevant() -> _Held:
    found = tuple(c for c in complexes() if c.cation in METALS and c.acid in acid_systems())
    charges = np.array([_CHARGE[c.cation] for c in found])
    forms = np.array([c.charge for c in found])
    return _Held(
        found,
        tuple(METALS.index(c.cation) for c in found),
        tuple(system_index()[c.acid] for c in found),
        np.array([c.log_k for c in found]),
        (charges + forms) ** 2 - charges**2 - forms**2,
        np.array([c.ionic_strength for c in found]),
    )


def _free(metals: Array, acids: Acidity) -> Array:
    """Return free metals beside the acids that were added or came with the fruit, mol/kg."""
    held = _relevant()
    is_there = np.logical_or.reduce(acids.totals != 0.0)
    places = [place for place, system in enumerate(held.systems) if is_there[system]]
    if not places:
        return metals
    ligands = list(dict.fromkeys(held.systems[place] for place in places))
    strength = np.minimum(np.maximum(acids.ionic_strength, 0.0), 0.5)
    stability = 10.0 ** _log_k_at(held, places, strength)
    shares: dict[tuple[int, int], Array] = {}
    constants = np.zeros((len(metals), len(METALS), len(ligands)))
    for place, factor in zip(places, stability, strict=True):
        form = held.systems[place], held.items[place].charge
        if form not in shares:
            shares[form] = _form_share(*form, acids.ph.value, strength)
        constants[:, held.metals[place], ligands.index(form[0])] += factor * shares[form]
    return free_metals_at_ph(metals, acids.totals[:, ligands], constants=constants)


def _form_share(system: int, charge: int, ph: Array, strength: Array) -> Array:
    """Return the share of an acid that carries a charge."""
    systems = systems_at(_CELSIUS)
    return form_share(
        ph,
        pk=np.asarray(systems.pk)[system],
        top_charge=float(np.asarray(systems.top_charge)[system]),
        charge=charge,
        ionic_strength=strength,
        debye_huckel=float(np.asarray(water_at(_CELSIUS).debye_huckel)),
    )


def _log_k_at(held: _Held, places: list[int], strength: Array) -> Array:
    """Return the stability at an ionic strength: charges that cancel make it weaker."""
    debye_huckel = float(np.asarray(water_at(_CELSIUS).debye_huckel))
    term = debye_huckel * _davies(strength) - debye_huckel * _davies(held.given_at[places])[:, None]
    return np.asarray(held.log_k[places, None] + held.squares[places, None] * term)


def _davies(strength: Array) -> Array:
    root = np.sqrt(strength)
    return np.asarray(root / (1.0 + root) - 0.3 * strength)


def _spans(free: Array, available: Array, dissolved: Spans, *, reserve: Array) -> Spans:
    """Return free amounts with a range: of what is dissolved, and of what is bound."""
    ratio = np.divide(free, available, out=np.ones_like(free), where=available > 0)
    bound = (1.0 - ratio) / np.maximum(ratio, 1e-9)
    tight, loose = 1.0 / (1.0 + bound * _BOUND_DOUBT), 1.0 / (1.0 + bound / _BOUND_DOUBT)
    level = np.maximum(dissolved.value, 1e-12)
    less, more = dissolved.low / level, dissolved.high / level
    high = np.maximum(available * more * loose, reserve)
    return Spans(free, available * less * tight, high)


@cache
def binding_evidence() -> Evidence:
    """Return the citations of the stability constants and of the salts of milk."""
    found = [item.citation for item in _relevant().items]
    found += [milk_salts()["calcium", "in_diffusate"].citation]
    return tuple(dict.fromkeys(found))
