"""The ions that are free to gel: not held by milk, citrate or phosphate."""

from dataclasses import dataclass
from functools import cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_side import system_index, systems_at, water_at
from setwell.engine.acidity import Acidity
from setwell.engine.material import MINERALS, NUTRIENT_INDEX, Material
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
    milky = [m.group in {"dairy", "cheese"} and m.has_allergen("milk") for m in materials]
    milk = {metal: _milk_total(masses, materials, water_g, milky, metal) for metal in _OF_MILK}
    available = np.stack([dissolved[metal].value for metal in METALS], axis=1)
    reserve = np.zeros_like(available)
    in_water = dict(dissolved)
    for column, metal in enumerate(_OF_MILK):
        freed = _freed_by_acid(milk[metal], acids.ph.value)
        # The acid takes what the micelles held into the water.
        in_water[metal] = Spans(*(part + freed for part in dissolved[metal]))
        loose = _available(available[:, column], milk[metal], acids.ph.value, metal)
        reserve[:, column] = np.where(milk[metal][1] > 0, _MILK_RESERVE * loose, 0.0)
        available[:, column] = loose
    free = _free(available / 1000.0, acids) * 1000.0
    found = {
        metal: _spans(
            free[:, column],
            available[:, column],
            dissolved[metal],
            reserve=reserve[:, column],
        )
        for column, metal in enumerate(METALS)
    }
    calcium = in_water["calcium"].value
    held = 1.0 - np.divide(free[:, 0], calcium, out=np.ones_like(calcium), where=calcium > 0)
    return FreeIons(found, in_water, np.clip(held, 0.0, 1.0))


def _milk_total(
    masses: Array, materials: tuple[Material, ...], water_g: Array, milky: list[bool], metal: str
) -> tuple[Array, Array]:
    """Return all of a metal that milk brings, and what of it counts as dissolved, mmol/kg."""
    index, position = NUTRIENT_INDEX[f"{metal}_mg"], MINERALS.index(metal)
    content = np.nan_to_num(np.array([m.nutrients[index] for m in materials], dtype=np.float64))
    share = np.array([1.0 if m.dissolved is None else m.dissolved[0, position] for m in materials])
    per_gram = content * np.array(milky, dtype=np.float64) / 100.0 / _ATOMIC[metal]
    kilograms = water_g / 1000.0
    found = []
    for amount in (masses @ per_gram, masses @ (per_gram * share)):
        found.append(np.divide(amount, kilograms, out=np.zeros_like(amount), where=kilograms > 0))
    return found[0], found[1]


def _available(dissolved: Array, milk: tuple[Array, Array], ph: Array, metal: str) -> Array:
    """Return what is not held by milk itself: free ions before other acids take their share.

    Milk's colloidal calcium phosphate dissolves on acidification, and below pH 5 the citrate
    and phosphate of its serum let go of most of what they hold.
    """
    _, serum = milk
    in_serum = serum + _freed_by_acid(milk, ph)
    native = _native_free_share(metal)
    loose = native + (1.0 / _held_below_five() - native) * _acid_share(ph)
    return np.asarray(np.clip(dissolved - serum, 0.0, None) + in_serum * loose)


def _acid_share(ph: Array) -> Array:
    """Return how far the acid has gone from the pH of milk to where the micelles hold nothing."""
    gone = float(milk_salts()["colloidal_phosphate", "dissolved_below_ph"].value)
    return np.asarray(np.clip((_MILK_PH - ph) / (_MILK_PH - gone), 0.0, 1.0))


def _freed_by_acid(milk: tuple[Array, Array], ph: Array) -> Array:
    """Return what acid takes out of the micelles, mmol/kg; `milk` is all and what is in serum."""
    whole, serum = milk
    return np.asarray((whole - serum) * _acid_share(ph))


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


@cache
def _relevant() -> tuple[Complex, ...]:
    return tuple(c for c in complexes() if c.cation in METALS and c.acid in acid_systems())


def _free(metals: Array, acids: Acidity) -> Array:
    """Return free metals beside the acids that were added or came with the fruit, mol/kg."""
    systems, water = systems_at(_CELSIUS), water_at(_CELSIUS)
    held = [c for c in _relevant() if acids.totals[:, system_index()[c.acid]].any()]
    names = tuple(dict.fromkeys(c.acid for c in held))
    if not names:
        return metals
    ligands = np.stack([acids.totals[:, system_index()[name]] for name in names], axis=1)
    constants = np.zeros((len(metals), len(METALS), len(names)))
    strength = np.clip(acids.ionic_strength, 0.0, 0.5)
    for item in held:
        row = system_index()[item.acid]
        share = form_share(
            acids.ph.value,
            pk=np.asarray(systems.pk)[row],
            top_charge=float(np.asarray(systems.top_charge)[row]),
            charge=item.charge,
            ionic_strength=strength,
            debye_huckel=float(np.asarray(water.debye_huckel)),
        )
        lowered = _log_k_at(item, strength, float(np.asarray(water.debye_huckel)))
        constants[:, METALS.index(item.cation), names.index(item.acid)] += 10.0**lowered * share
    return free_metals_at_ph(metals, ligands, constants=constants)


def _log_k_at(item: Complex, strength: Array, debye_huckel: float) -> Array:
    """Return the stability at an ionic strength: charges that cancel make it weaker."""
    root = np.sqrt(strength)
    term = debye_huckel * (root / (1.0 + root) - 0.3 * strength)
    if item.ionic_strength > 0:
        base = np.sqrt(item.ionic_strength)
        term = term - debye_huckel * (base / (1.0 + base) - 0.3 * item.ionic_strength)
    cation = _CHARGE[item.cation]
    squares = (cation + item.charge) ** 2 - cation**2 - item.charge**2
    return np.asarray(item.log_k + squares * term)


def _spans(free: Array, available: Array, dissolved: Spans, *, reserve: Array) -> Spans:
    """Return free amounts with a range: of what is dissolved, and of what is bound."""
    ratio = np.divide(free, available, out=np.ones_like(free), where=available > 0)
    bound = (1.0 - ratio) / np.clip(ratio, 1e-9, None)
    tight, loose = 1.0 / (1.0 + bound * _BOUND_DOUBT), 1.0 / (1.0 + bound / _BOUND_DOUBT)
    level = np.clip(dissolved.value, 1e-12, None)
    less, more = dissolved.low / level, dissolved.high / level
    high = np.maximum(available * more * loose, reserve)
    return Spans(free, available * less * tight, high)


def binding_evidence() -> Evidence:
    """Return the citations of the stability constants and of the salts of milk."""
    found = [item.citation for item in _relevant()]
    found += [milk_salts()["calcium", "in_diffusate"].citation]
    return tuple(dict.fromkeys(found))
