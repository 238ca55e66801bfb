"""What the solution tables give back: frozen rows with the origin of each figure."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.provenance import Citation


@dataclass(frozen=True, slots=True)
class Figure:
    """One figure with its range; None where the source gives no range."""

    value: float
    low: float | None
    high: float | None
    unit: str
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class AcidStep:
    """The loss of one proton at 25 °C and zero ionic strength.

    `enthalpy` [kJ/mol] and `heat_capacity` [J/(mol K)] are None where no figure was found; the
    pK is then taken as flat with temperature.
    """

    pk25: float
    low: float
    high: float
    enthalpy: float | None
    heat_capacity: float | None
    citation: Citation


@dataclass(frozen=True, slots=True)
class AcidSystem:
    """An acid with all its forms, from the one with the most protons down.

    `charges` has one entry more than `steps`; `molar_mass` [g/mol] is that of the first form.
    """

    key: str
    name: str
    formula: str
    molar_mass: float
    charges: tuple[int, ...]
    steps: tuple[AcidStep, ...]
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Complex:
    """A cation bound to one form of an acid; `log_k` in kg/mol at 25 °C."""

    cation: str
    acid: str
    charge: int
    log_k: float
    low: float
    high: float
    ionic_strength: float
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class TitratableAcid:
    """The acid that a titratable acidity is printed as; `equivalent_mass` in g/mol."""

    key: str
    acid: str
    protons: int
    equivalent_mass: float
    citation: Citation


@dataclass(frozen=True, slots=True)
class FoodAcid:
    """One acid of a food; mass fractions in g per g of food, counted as the free acid."""

    acid: str
    mass_fraction: float
    low: float
    high: float
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class Chemical:
    """A pure salt or acid; `acids` and `ions` in mol per mol, `molar_mass` in g/mol as sold.

    `dissolves` is freely, slightly or hardly.
    """

    key: str
    formula: str
    molar_mass: float
    dissolves: str
    acids: Mapping[str, float]
    ions: Mapping[str, float]
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class MilkGroup:
    """One buffering group of milk; `amount` in mmol per kg of milk with 9 % solids-not-fat.

    Protons held at a pH: amount / (1 + 10^(slope (pH - pk))). `charge` is that of the form
    with the proton; pk holds at 25 °C and the ionic strength of milk.
    """

    key: str
    amount: float
    amount_low: float
    amount_high: float
    pk: float
    slope: float
    charge: int
    citation: Citation
    note: str


@dataclass(frozen=True, slots=True)
class WaterConstants:
    """Water as a solvent, by rising temperature in °C.

    `davies_a` in kg^0.5/mol^0.5 for base-10 logarithms, `davies_linear` in kg/mol.
    """

    davies_temperatures: tuple[float, ...]
    davies_a: tuple[float, ...]
    davies_linear: float
    pkw_temperatures: tuple[float, ...]
    pkw: tuple[float, ...]
    citations: tuple[Citation, ...]


@dataclass(frozen=True, slots=True)
class HardnessUnit:
    """A unit of water hardness; `millimoles` of calcium and magnesium per liter."""

    key: str
    symbol: str
    millimoles: float
    citation: Citation


@dataclass(frozen=True, slots=True)
class Solute:
    """What one dissolved substance does to the water activity; molar mass in g/mol.

    A sugar, polyol or acid has a `norrish_k`; a salt has `osmotic_coefficient` and `ions`.
    """

    key: str
    molar_mass: float
    norrish_k: Figure | None
    osmotic_coefficient: Figure | None
    ions: int


@dataclass(frozen=True, slots=True)
class Solubility:
    """Grams of a substance, without crystal water, that 100 g of water hold at 20 °C."""

    key: str
    name: str
    materials: tuple[str, ...]
    value: float
    low: float
    high: float
    citation: Citation
    note: str
