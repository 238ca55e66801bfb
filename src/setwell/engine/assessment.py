"""What the engine says about one formula: typed, read-only results."""

from dataclasses import dataclass
from enum import StrEnum

from setwell.domain.formula import Formula
from setwell.engine.chemistry_results import AcidOrder, Consequence
from setwell.engine.texture_results import AgentGel, Texture
from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence

__all__ = [
    "NO_PH",
    "AcidOrder",
    "AgentGel",
    "AgentResult",
    "AllergenResult",
    "Assessment",
    "BatchSize",
    "Caution",
    "Consequence",
    "CostResult",
    "DietResult",
    "Figure",
    "Finding",
    "LineReading",
    "NutrientFigure",
    "Severity",
    "StepReading",
    "Texture",
    "Verdict",
]

# Flag of a pH where there is too little water to speak of one.
NO_PH = "no pH: too little water"


class Severity(StrEnum):
    """How much a finding matters."""

    STOP = "stop"
    WARN = "warn"
    NOTE = "note"


@dataclass(frozen=True, slots=True)
class LineReading:
    """How one ingredient line was read.

    `number` counts the lines of the ingredients text from 1. `grams` is None when the line
    could not be weighed; `problem` then says why and what to do, `nearest` offers names.
    """

    number: int
    text: str
    heading: str
    phase: str
    name: str
    material_key: str
    material_name: str
    material_kind: str
    grams: float | None
    percent: float | None
    assumptions: tuple[str, ...]
    problem: str
    nearest: tuple[str, ...]
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class StepReading:
    """How one step was read."""

    number: int
    text: str
    kind: str
    reading: str
    problem: str


@dataclass(frozen=True, slots=True)
class BatchSize:
    """Weights of the batch on its way through the kitchen, in grams."""

    ingredients_g: float
    finished_g: float
    usable_g: float
    volume_ml: Estimate | None
    portions: int | None
    portion_g: float | None


@dataclass(frozen=True, slots=True)
class NutrientFigure:
    """One nutrient, per 100 g of the finished batch and in the whole batch."""

    key: str
    label: str
    per_100g: Estimate
    per_batch: Estimate
    unknown_in: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Figure:
    """One named number, with a sentence on what it means here."""

    key: str
    label: str
    estimate: Estimate
    remark: str = ""

    @property
    def is_none(self) -> bool:
        """True where there is no such number at all, and the remark says why."""
        return NO_PH in self.estimate.flags


@dataclass(frozen=True, slots=True)
class AgentResult:
    """One texture agent in this formula."""

    key: str
    name: str
    lines: tuple[int, ...]
    dose_pct: Estimate
    typical: str
    dose_verdict: str
    lot: str
    hydrates: Verdict
    hydrated_fraction: Estimate | None
    hydration_reason: str
    sets: Verdict
    set_reason: str
    set_temperature_c: Estimate | None
    melt_temperature_c: Estimate | None
    practice_set_c: Estimate | None
    practice_note: str
    modulus_kpa: Estimate | None
    viscosity_mpa_s: Estimate | None
    firmness: str
    words: tuple[str, ...]
    chart: tuple[Figure, ...]
    evidence: Evidence
    gel: AgentGel


@dataclass(frozen=True, slots=True)
class Finding:
    """Something worth saying: what, how much, and what to do about it."""

    code: str
    severity: Severity
    title: str
    text: str
    action: str
    lines: tuple[int, ...] = ()
    steps: tuple[int, ...] = ()
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class Caution:
    """A safety caution that goes with the formula onto the page and the card."""

    code: str
    title: str
    text: str
    evidence: Evidence = ()


@dataclass(frozen=True, slots=True)
class AllergenResult:
    """One allergen, where it is, and whether that is certain."""

    allergen: str
    kind: str
    certainty: str
    lines: tuple[int, ...]
    materials: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class DietResult:
    """Whether the formula fits one diet, and which lines break it."""

    diet: str
    verdict: Verdict
    claimed: bool
    lines: tuple[int, ...]
    reason: str


@dataclass(frozen=True, slots=True)
class CostResult:
    """What the ingredients cost; a lower bound while prices are missing."""

    currency: str
    batch: Estimate | None
    per_portion: Estimate | None
    per_100g: Estimate | None
    driver: str
    unpriced: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Assessment:
    """Everything computed for one version of one formula."""

    formula: Formula
    formula_hash: str
    lines: tuple[LineReading, ...]
    steps: tuple[StepReading, ...]
    is_complete: bool
    batch: BatchSize
    nutrients: tuple[NutrientFigure, ...]
    solution: tuple[Figure, ...]
    agents: tuple[AgentResult, ...]
    texture: Texture
    findings: tuple[Finding, ...]
    cautions: tuple[Caution, ...]
    allergens: tuple[AllergenResult, ...]
    diets: tuple[DietResult, ...]
    cost: CostResult
    evidence: Evidence
    # Which ingredients the doubt in the computed pH comes from, by their share of it.
    ph_doubt: tuple[tuple[str, float], ...] = ()
    consequences: tuple[Consequence, ...] = ()
    acid_order: AcidOrder | None = None

    def figure(self, key: str) -> Figure | None:
        """Return one of the solution figures by its key, such as `brix` or `ph`."""
        return next((figure for figure in self.solution if figure.key == key), None)

    def nutrient(self, key: str) -> NutrientFigure | None:
        """Return one nutrient by its key, such as `protein_g`."""
        return next((figure for figure in self.nutrients if figure.key == key), None)
