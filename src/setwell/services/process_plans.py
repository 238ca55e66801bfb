"""Process plans: what a kitchen's shelves suggest, and what was saved with a version."""

import re
from dataclasses import dataclass

from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, MoldForm
from setwell.domain.formula import Formula
from setwell.domain.mold_shapes import volume_of
from setwell.domain.pantry import Mold, Pantry, Vessel
from setwell.domain.process_plan import CoolPlan, PotPlan, PotStirring, ProcessPlan
from setwell.domain.step_surroundings import is_out_of_pot
from setwell.domain.steps import Step, StepKind, Stirring, steps_parse
from setwell.services.clock import now
from setwell.services.revision import pantry_touch
from setwell.store.process_plan_rows import plan_row_add, plan_row_newest
from setwell.store.transactions import writing

# A pot is filled to this share at most (our own judgment).
_FULL = 0.8
_USUAL_MOLD_ML = 100.0
# A day on the counter: what a plan can hold.
_COUNTER_MOST_MIN = 1_440.0
_WARMING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_INTO_COLD = frozenset({StepKind.CHILL, StepKind.FREEZE})
# What a batch is heated on where there is a choice.
_HOBS = (HobKind.INDUCTION, HobKind.ELECTRIC, HobKind.GAS, HobKind.STEAM)
_FRIDGES = (CoolerKind.VENTILATED_FRIDGE, CoolerKind.FRIDGE)
# What a step calls the place it chills in, and what to take where the shelf has none.
_PLACES = (
    (re.compile(r"\bice[- ]?(?:water|bath)", re.I),
     Cooler(name="Ice bath", kind=CoolerKind.ICE_BATH, air_c=1.0)),
    (re.compile(r"\bblast[- ]?(?:chill|freez)", re.I),
     Cooler(name="Blast chiller", kind=CoolerKind.BLAST_CHILLER, air_c=-15.0)),
    (re.compile(r"(?<!not )(?<!never )(?<!without )\bfreez(?:e|er|ing)\b", re.I),
     Cooler(name="Freezer", kind=CoolerKind.FREEZER, air_c=-18.0)),
)  # fmt: skip
_STIRRING = {
    Stirring.CONSTANT: PotStirring.CONSTANT,
    Stirring.OCCASIONAL: PotStirring.OCCASIONAL,
    Stirring.NONE: PotStirring.NONE,
    Stirring.BLENDER: PotStirring.BLENDER,
}


@dataclass(frozen=True, slots=True)
class PlanInForce:
    """A plan and where it comes from: saved with this version, an earlier one, or the shelves."""

    plan: ProcessPlan
    origin: str
    number: int | None = None

    @property
    def is_saved(self) -> bool:
        """True when it was saved with this very version, and so feeds its assessment."""
        return self.origin == "saved"


def plan_in_force(
    *, formula_id: int, number: int, formula: Formula, pantry: Pantry, batch_g: float
) -> PlanInForce:
    """Return the plan of a version: its own, that of the nearest version before, or a start."""
    stored = plan_row_newest(formula_id=formula_id, number=number)
    if stored is not None:
        origin = "saved" if stored.number == number else "earlier"
        return PlanInForce(stored.document, origin, stored.number)
    return PlanInForce(plan_suggest(formula, pantry, batch_g=batch_g), "shelves")


def plan_saved(*, formula_id: int, number: int) -> ProcessPlan | None:
    """Return the plan saved with a version; None when there is none."""
    stored = plan_row_newest(formula_id=formula_id, number=number)
    return stored.document if stored is not None and stored.number == number else None


def plan_save(*, formula_id: int, number: int, document: ProcessPlan) -> int:
    """Save how a version is heated and cooled; it counts from now on, earlier ones stay."""
    with writing():
        row_id = plan_row_add(
            formula_id=formula_id, number=number, document=document, recorded_at=now()
        )
        pantry_touch()
    return row_id


def plan_suggest(formula: Formula, pantry: Pantry, *, batch_g: float) -> ProcessPlan:
    """Return a plan from the steps and from what stands on the shelves."""
    steps = steps_parse(formula.steps)
    return ProcessPlan(
        pot=pot_suggest(steps, pantry, batch_g) if _is_heated(steps) else None,
        cooling=cooling_suggest(formula, pantry) if _is_chilled(formula, steps) else None,
    )


def pot_suggest(steps: tuple[Step, ...], pantry: Pantry, batch_g: float) -> PotPlan:
    """Return a pot for a batch: the smallest known one that holds it, stirred as the steps say."""
    hob = min(pantry.hobs, key=lambda one: _HOBS.index(one.kind), default=Hob(name="Hob"))
    vessel = _vessel(pantry, batch_g)
    told = next(
        (s.stirring for s in reversed(steps) if s.kind in _WARMING and s.stirring is not None), None
    )
    pot = PotPlan(hob=hob, stirring=_STIRRING[told] if told else PotStirring.OCCASIONAL)
    return pot_of(pot, vessel) if vessel else pot


def pot_of(pot: PotPlan, vessel: Vessel) -> PotPlan:
    """Return a plan in another pot."""
    changes: dict[str, object] = {"diameter_mm": vessel.diameter_mm, "height_mm": vessel.height_mm}
    if vessel.wall is not None:
        changes["wall"] = vessel.wall
    return pot.model_copy(update=changes)


def cooling_suggest(formula: Formula, pantry: Pantry) -> CoolPlan:
    """Return molds and a cold place: the mold of the formula's volume, and the first fridge."""
    molds = formula.molds
    volume = molds.volume_ml if molds else _USUAL_MOLD_ML
    known = mold_near(pantry, volume)
    steps = steps_parse(formula.steps)
    return CoolPlan(
        mold=known.form() if known else MoldForm(volume_ml=volume),
        cooler=_cooler(pantry, steps),
        count=molds.count if molds else formula.portions or 1,
        counter_min=_counter_min(steps),
        serving_c=formula.serving_temperature_c,
    )


def mold_volume(form: MoldForm) -> float | None:
    """Return what a form holds, by its lengths or as told [mL]."""
    return volume_of(form) or form.volume_ml


def _vessel(pantry: Pantry, batch_g: float) -> Vessel | None:
    known = sorted((v for v in pantry.vessels if v.diameter_mm), key=lambda v: v.volume_ml)
    # 1 g of a batch takes about 1 mL.
    fitting = (vessel for vessel in known if vessel.volume_ml * _FULL >= batch_g)
    return next(fitting, known[-1] if known else None)


def mold_near(pantry: Pantry, volume_ml: float) -> Mold | None:
    """Return the mold whose volume is nearest, if it is within a quarter."""
    near = [m for m in pantry.molds if abs(m.volume_ml / volume_ml - 1.0) <= 0.25]
    return min(near, key=lambda m: abs(m.volume_ml - volume_ml), default=None)


def _cooler(pantry: Pantry, steps: tuple[Step, ...]) -> Cooler:
    """Return the place that the first step into the cold names, else a fridge of the shelf."""
    chills = (step for step in steps if step.kind in _INTO_COLD)
    text = next((step.text for step in chills), "")
    named = next((place for words, place in _PLACES if words.search(text)), None)
    if named is not None:
        return next((one for one in pantry.coolers if one.kind is named.kind), named)
    for kind in _FRIDGES:
        for cooler in pantry.coolers:
            if cooler.kind is kind:
                return cooler
    return Cooler(name="Fridge")


def _is_heated(steps: tuple[Step, ...]) -> bool:
    return any(step.kind in _WARMING and not is_out_of_pot(step) for step in steps)


def _is_chilled(formula: Formula, steps: tuple[Step, ...]) -> bool:
    """True for what goes into molds or the cold, or has to set; a hot drink does not."""
    is_molded = formula.molds is not None or formula.goal.wants_gel
    return is_molded or any(step.kind in _INTO_COLD for step in steps)


def _counter_min(steps: tuple[Step, ...]) -> float:
    """Return how long the molds stand before they go into the cold."""
    pours = [n for n, step in enumerate(steps) if step.kind is StepKind.POUR]
    if not pours:
        return 0.0
    minutes = 0.0
    for step in steps[pours[-1] + 1 :]:
        if step.kind is not StepKind.REST:
            break
        minutes += step.hold_min or 0.0
    return min(minutes, _COUNTER_MOST_MIN)
