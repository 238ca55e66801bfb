"""What each material brings into the acid-base balance: weak acids, sites, strong ions."""

from dataclasses import dataclass, replace
from functools import cache, lru_cache

import numpy as np
from numpy.typing import NDArray

from setwell.engine.material import MINERALS, NUTRIENT_INDEX, Material, Span
from setwell.provenance import Citation, Evidence
from setwell.science.solution.charge_balance import (
    ph_charge_balance,
    strong_ion_difference_for_ph,
)
from setwell.science.solution.charge_search import Water
from setwell.science.solution.dissociation import pk_at_temperature
from setwell.science.solution.protonation import AcidSystems
from setwell.tables.solution import (
    Chemical,
    FoodAcid,
    acid_systems,
    chemicals,
    food_acids,
    milk_groups,
    water_constants,
)

Array = NDArray[np.float64]

# Sites that stand for the unnamed buffers of a food: one pK unit apart, so that each adds its
# amount to the buffer capacity between the outer ones.
_SITE_PKS = (2.5, 3.5, 4.5, 5.5, 6.5, 7.5, 8.5)
_STEPS = 4
_CELSIUS = 25.0
_KELVIN = 273.15
# Protein of the milk the groups are given for (USDA SR28, NDB 01085 and 01077: 3.2 to 3.4 %).
_MILK_PROTEIN_G = 3.25
# Real milk takes 10 to 20 % more acid than the groups say (foods with a curd in them, too).
_MILK_DOUBT = 0.25
# Tap water changes through the year.
_OWN_DOUBT = 0.3
# However little the tables say of the least acid, this share of the most is taken (our judgment).
_LEAST_SHARE = 0.05
# A dry food's pH is read in a suspension of one part in ten.
_SUSPENSION_WATER = 9.0
_WET = 0.4
# Share of a hardly dissolving salt that takes part (our judgment: it depends on dose and pH).
_DISSOLVES = {"freely": 1.0, "slightly": 0.5, "hardly": 0.05}
# A lactone turns into its acid over hours, and not all of it.
_SLOW, _SLOW_DOUBT = frozenset({"glucono_delta_lactone"}), 0.15
_CHARGES = {
    "sodium": 1,
    "potassium": 1,
    "calcium": 2,
    "magnesium": 2,
    "chloride": -1,
    "sulfate": -2,
}
_ATOMIC = {"sodium": 22.990, "potassium": 39.098, "calcium": 40.078, "magnesium": 24.305}


@dataclass(frozen=True, slots=True, eq=False)
class AcidSide:
    """One material in the balance, per kilogram of it.

    `totals` (s,) in mol, `strong` the strong ion difference in mol, `cations` the charge of its
    strong cations in mol, `ionic` half the sum of their amounts times squared charge in mol,
    `native_charge` (s,) the charge at the material's own pH and `native_capacity` in mol per pH
    unit its capacity there; `ph_half_width` and `total_log_half_width` are the doubt in its pH
    and in the amount of its acids. `is_known` is False for a material whose pH nobody gave and
    that is no pure chemical.
    """

    totals: Array
    strong: float
    cations: float
    ionic: float
    native_charge: Array
    native_capacity: float
    ph_half_width: float
    total_log_half_width: float
    evidence: Evidence
    is_known: bool = True


@cache
def system_names() -> tuple[str, ...]:
    """Return the systems of the balance in a fixed order: acids, milk groups, sites."""
    return (
        *acid_systems(),
        *(f"milk:{key}" for key in milk_groups()),
        *(f"site:{pk:g}" for pk in _SITE_PKS),
    )


@cache
def system_index() -> dict[str, int]:
    """Return the position of each system."""
    return {name: position for position, name in enumerate(system_names())}


@lru_cache(maxsize=64)
def systems_at(celsius: float) -> AcidSystems:
    """Return the constants of all systems at a temperature."""
    kelvin = celsius + _KELVIN
    pk = np.full((len(system_names()), _STEPS), np.nan)
    charge = np.zeros(len(pk))
    slope, apparent = np.ones(len(pk)), np.ones(len(pk))
    for row, system in enumerate(acid_systems().values()):
        steps = system.steps[:_STEPS]
        pk[row, : len(steps)] = [
            float(
                pk_at_temperature(
                    step.pk25,
                    enthalpy=1000.0 * (step.enthalpy or 0.0),
                    heat_capacity=step.heat_capacity or 0.0,
                    temperature=kelvin,
                )
            )
            for step in steps
        ]
        charge[row], apparent[row] = system.charges[0], 0.0
    for key, group in milk_groups().items():
        row = system_index()[f"milk:{key}"]
        pk[row, 0], charge[row], slope[row] = group.pk, group.charge, group.slope
    for site in _SITE_PKS:
        pk[system_index()[f"site:{site:g}"], 0] = site
    return AcidSystems(pk, charge, slope, apparent)


@lru_cache(maxsize=64)
def water_at(celsius: float) -> Water:
    """Return what water does at a temperature."""
    constants = water_constants()
    return Water(
        float(np.interp(celsius, constants.pkw_temperatures, constants.pkw)),
        float(np.interp(celsius, constants.davies_temperatures, constants.davies_a)),
    )


@lru_cache(maxsize=4096)
def acid_side(material: Material) -> AcidSide:
    """Return what a material brings along; worked out once."""
    chemical = chemicals().get(material.table_key)
    if chemical is not None:
        return _chemical_side(material)
    totals, doubt, evidence = _totals(material)
    if material.ph is None:
        # Without a pH its buffers have no zero to count from: they stay out, and that is said.
        quiet = material.buffering.value <= 1.0
        return _plain(material, np.zeros_like(totals), is_known=quiet)
    return _food_side(material, material.ph, totals, doubt, evidence)


def _plain(material: Material, totals: Array, *, is_known: bool) -> AcidSide:
    """Return a side that brings salts and nothing else."""
    charge, ionic = _cations(material)
    none = np.zeros_like(totals)
    return AcidSide(totals, 0.0, charge, ionic, none, 0.0, 0.0, 0.0, (), is_known=is_known)


def _chemical_side(material: Material) -> AcidSide:
    chemical = chemicals()[material.table_key]
    moles = 1000.0 / chemical.molar_mass * _DISSOLVES[chemical.dissolves]
    totals = np.zeros(len(system_names()))
    for acid, count in chemical.acids.items():
        totals[system_index()[acid]] += moles * count
    charges = {ion: moles * count * _CHARGES[ion] for ion, count in chemical.ions.items()}
    cations = {ion: charge for ion, charge in charges.items() if charge > 0}
    ionic = 0.5 * sum(charge * _CHARGES[ion] for ion, charge in cations.items())
    return AcidSide(
        totals, sum(charges.values()), sum(cations.values()), ionic, np.zeros_like(totals),
        0.0, 0.0, _chemical_doubt(chemical), (chemical.citation,),
    )  # fmt: skip


def _chemical_doubt(chemical: Chemical) -> float:
    """What is sold is nearly pure; how much of a hardly dissolving salt acts is a guess."""
    if chemical.dissolves != "freely":
        return 1.0
    return _SLOW_DOUBT if chemical.key in _SLOW else 0.02


def _totals(material: Material) -> tuple[Array, float, Evidence]:
    """Return acids and sites per kilogram, the doubt in them, and where they come from."""
    totals = np.zeros(len(system_names()))
    acids = food_acids().get(material.table_key, ())
    citations: list[Citation] = [acid.citation for acid in acids]
    for acid in acids:
        system = acid_systems()[acid.acid]
        totals[system_index()[acid.acid]] += 1000.0 * acid.mass_fraction / system.molar_mass
    doubt = _doubt_in(acids)
    for name, moles in (material.acids or {}).items():
        totals[system_index()[name]] += moles
        doubt = max(doubt, _OWN_DOUBT)
    if _is_milky(material):
        protein = np.nan_to_num(material.nutrients[NUTRIENT_INDEX["protein_g"]])
        for key, group in milk_groups().items():
            totals[system_index()[f"milk:{key}"]] += group.amount * protein / _MILK_PROTEIN_G / 1e3
            citations.append(group.citation)
        return totals, max(float(doubt), _MILK_DOUBT), tuple(dict.fromkeys(citations))
    if acids or material.acids:
        return totals, float(doubt), tuple(citations)
    span = material.buffering
    for site in _SITE_PKS:
        totals[system_index()[f"site:{site:g}"]] = span.value / 1000.0
    spread = np.log(max(span.high, 1e-6) / max(span.low, 1e-6)) / 2.0
    named = () if material.buffering_citation is None else (material.buffering_citation,)
    return totals, min(float(spread), 1.5), named


def _doubt_in(acids: tuple[FoodAcid, ...]) -> float:
    """Half the logarithm of the most over the least that all acids of a food may be together.

    An acid that may be missing, as malic acid in wine, is a doubt in the sum only.
    """
    molar = [acid_systems()[acid.acid].molar_mass for acid in acids]
    least = sum(acid.low / mass for acid, mass in zip(acids, molar, strict=True))
    most = sum(acid.high / mass for acid, mass in zip(acids, molar, strict=True))
    return float(np.log(most / max(least, _LEAST_SHARE * most)) / 2.0) if most > 0 else 0.0


def _is_milky(material: Material) -> bool:
    return material.group in {"dairy", "cheese"} and material.has_allergen("milk")


def _cations(material: Material) -> tuple[float, float]:
    """Return charge, and half the sum of squared charges, of the dissolved cations per kg."""
    charge, ionic = 0.0, 0.0
    for position, mineral in enumerate(MINERALS):
        content = np.nan_to_num(material.nutrients[NUTRIENT_INDEX[f"{mineral}_mg"]])
        share = 1.0 if material.dissolved is None else float(material.dissolved[0, position])
        amount = float(content) / 100.0 / _ATOMIC[mineral] * share
        charge += amount * _CHARGES[mineral]
        ionic += 0.5 * amount * _CHARGES[mineral] ** 2
    return charge, ionic


def _food_side(
    material: Material, span: Span, totals: Array, doubt: float, evidence: Evidence
) -> AcidSide:
    """Return a food whose strong ions are whatever holds it at its own pH."""
    own = np.nan_to_num(material.nutrients[NUTRIENT_INDEX["water_g"]]) / 100.0
    water = own if own >= _WET else _SUSPENSION_WATER
    columns = np.flatnonzero(totals > 0)
    if not columns.size:
        return replace(_plain(material, totals, is_known=True), evidence=evidence)
    charge, ionic = _cations(material)
    acids = systems_taken(_CELSIUS, columns)
    present, solvent = totals[None, columns] / water, water_at(_CELSIUS)
    # Half as much again for the strong anions among them, which nobody lists.
    strength = np.array([1.5 * ionic / water])
    found = strong_ion_difference_for_ph(
        present, [span.value], acids=acids, water=solvent, strong_ionic_strength=strength
    )
    native = ph_charge_balance(
        present, found.difference, acids=acids, water=solvent, strong_ionic_strength=strength
    )
    charges = np.zeros_like(totals)
    charges[columns] = native.mean_charge[0]
    cited = () if material.ph_citation is None else (material.ph_citation,)
    return AcidSide(
        totals, float(found.difference[0] * water), charge, ionic, charges,
        float(native.buffer_capacity[0] * water), (span.high - span.low) / 2.0, doubt,
        (*cited, *evidence),
    )  # fmt: skip


def systems_taken(celsius: float, columns: NDArray[np.intp]) -> AcidSystems:
    """Return some of the systems at a temperature."""
    return _taken(celsius, tuple(columns.tolist()))


@lru_cache(maxsize=1024)
def _taken(celsius: float, columns: tuple[int, ...]) -> AcidSystems:
    acids, rows = systems_at(celsius), np.array(columns, dtype=np.intp)
    pk, charge = np.asarray(acids.pk)[rows], np.asarray(acids.top_charge)[rows]
    slope = None if acids.slope is None else np.asarray(acids.slope)[rows]
    apparent = None if acids.is_apparent is None else np.asarray(acids.is_apparent)[rows]
    return AcidSystems(pk, charge, slope, apparent)
