"""A formula on the bench of this kitchen, with pots and molds remembered: typing repeats them."""

from dataclasses import dataclass, field
from functools import lru_cache

from setwell.domain.formula import Formula
from setwell.domain.process_plan import CoolPlan, PotPlan
from setwell.engine.assess import bench_build
from setwell.engine.heat.cooling import cool
from setwell.engine.heat.pot import heat_pot
from setwell.engine.heat.results import CoolingResult, PotResult
from setwell.engine.rules.bench import Bench
from setwell.services.calibration import calibration_for
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.revision import pantry_revision
from setwell.services.texture_calibration import corrections_for


@dataclass(frozen=True, slots=True)
class KitchenBench:
    """A bench, and the mark of everything that went into it; equal marks are equal benches."""

    mark: str
    bench: Bench = field(compare=False)

    @property
    def batch_g(self) -> float:
        """The weight of the finished batch, in grams."""
        return float(self.bench.state.composition.finished_g[0])

    @property
    def written_g(self) -> float:
        """What goes into the pot of the batch as written, in grams."""
        return float(self.bench.state.composition.ingredients_g[0])


def kitchen_bench(
    formula: Formula, *, formula_id: int | None = None, number: int | None = None
) -> KitchenBench:
    """Return a formula with the pantry and the readings of this kitchen."""
    readings = calibration_for(formula=formula, formula_id=formula_id, number=number)
    textures = corrections_for(formula=formula, formula_id=formula_id, number=number)
    parts = parts_for(formula)
    bench = bench_build(
        formula,
        catalog=kitchen_catalog(),
        parts=parts,
        measured_ph=readings.measured,
        ph_offset=readings.offset,
        corrections=textures.corrections,
    )
    marks = (
        formula.content_hash, pantry_revision(),
        tuple(sorted((title, part.content_hash) for title, part in parts.items())),
        readings.measured, readings.offset, textures.corrections,
    )  # fmt: skip
    return KitchenBench(repr(marks), bench)


@lru_cache(maxsize=32)
def pot_heated(on: KitchenBench, plan: PotPlan) -> PotResult:
    """Return the pot of a plan; raises InputError at the field that cannot be."""
    return heat_pot(on.bench, plan)


@lru_cache(maxsize=32)
def molds_cooled(on: KitchenBench, plan: CoolPlan) -> CoolingResult:
    """Return the molds of a plan; raises InputError at the field that cannot be."""
    return cool(on.bench, plan)
