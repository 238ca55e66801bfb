"""The equipment to choose from: what stands on the shelves, what a plan has, and usual ones."""

from dataclasses import dataclass
from typing import Generic, TypeVar

from setwell.domain.equipment import Cooler, CoolerKind, Hob, HobKind, MoldForm, MoldShape
from setwell.domain.mold_shapes import volume_of
from setwell.domain.pantry import Vessel
from setwell.domain.process_plan import PotPlan, ProcessPlan
from setwell.services.materials import pantry_read

T = TypeVar("T")

# Usual ones, for a kitchen that has not written down its own (our own judgment).
_HOBS = (
    Hob(name="Induction hob, 2000 W", kind=HobKind.INDUCTION, power_w=2_000),
    Hob(name="Electric ring, 1500 W", kind=HobKind.ELECTRIC, power_w=1_500),
    Hob(name="Gas ring, 3000 W", kind=HobKind.GAS, power_w=3_000),
)
_COOLERS = (
    Cooler(name="Fridge at 4 °C", kind=CoolerKind.FRIDGE, air_c=4),
    Cooler(name="Fan fridge at 3 °C", kind=CoolerKind.VENTILATED_FRIDGE, air_c=3),
    Cooler(name="Blast chiller at −15 °C", kind=CoolerKind.BLAST_CHILLER, air_c=-15),
    Cooler(name="Ice bath", kind=CoolerKind.ICE_BATH, air_c=1),
    Cooler(name="Freezer at −18 °C", kind=CoolerKind.FREEZER, air_c=-18),
    Cooler(name="Counter at 20 °C", kind=CoolerKind.COUNTER, air_c=20),
)
_POTS = (160.0, 200.0, 240.0, 320.0)
_MOLDS_ML = (10.0, 100.0, 500.0, 1_000.0)


@dataclass(frozen=True, slots=True)
class Choice(Generic[T]):
    """One thing to choose, by its name, and the group it is listed under."""

    name: str
    group: str
    thing: T


@dataclass(frozen=True, slots=True)
class Equipment:
    """Everything a plan can be put together from; the plan's own things come first."""

    hobs: tuple[Choice[Hob], ...]
    pots: tuple[Choice[Vessel], ...]
    molds: tuple[Choice[MoldForm], ...]
    coolers: tuple[Choice[Cooler], ...]


def equipment_choices(plan: ProcessPlan) -> Equipment:
    """Return what can be chosen, with what a plan has that is not on a shelf."""
    pantry = pantry_read()
    pot, cooling = plan.pot, plan.cooling
    pots = [(one.name, one) for one in pantry.vessels if one.diameter_mm]
    rounds = [(f"Pot, {across:g} mm across", _round(across)) for across in _POTS]
    has_own = pot is not None and not any(_same(one, pot) for _, one in (*pots, *rounds))
    return Equipment(
        hobs=_choices(
            (pot.hob.name, pot.hob) if pot else None,
            [(one.name, one) for one in pantry.hobs],
            [(one.name, one) for one in _HOBS],
        ),
        pots=_choices(
            (pot_name(pot), _vessel(pot)) if pot is not None and has_own else None,
            pots,
            rounds,
        ),
        molds=_choices(
            (mold_name(cooling.mold), cooling.mold) if cooling else None,
            [(one.name, one.form()) for one in pantry.molds],
            [(f"Mold of {ml:g} mL", MoldForm(volume_ml=ml)) for ml in _MOLDS_ML],
        ),
        coolers=_choices(
            (cooling.cooler.name, cooling.cooler) if cooling else None,
            [(one.name, one) for one in pantry.coolers],
            [(one.name, one) for one in _COOLERS],
        ),
    )


def chosen(choices: tuple[Choice[T], ...], thing: T) -> str:
    """Return the name under which a thing can be chosen."""
    return next((one.name for one in choices if one.thing == thing), choices[0].name)


def found(choices: tuple[Choice[T], ...], name: str) -> T | None:
    """Return the thing with a name, whatever its case."""
    wanted = name.strip().casefold()
    return next((one.thing for one in choices if one.name.casefold() == wanted), None)


def pot_choice(equipment: Equipment, pot: PotPlan) -> str:
    """Return the name of the pot of a plan: pots are the same when they measure the same."""
    return next(
        (one.name for one in equipment.pots if _same(one.thing, pot)), equipment.pots[0].name
    )


def mold_name(form: MoldForm) -> str:
    """Return a name for a mold by its form."""
    if form.shape is MoldShape.OTHER:
        return f"Mold of {form.volume_ml or 0:g} mL"
    given = (form.length_mm, form.width_mm, form.diameter_mm, form.height_mm)
    lengths = " × ".join(f"{value:g}" for value in given if value)
    held = volume_of(form) or form.volume_ml
    return f"{form.shape.value.capitalize()} {lengths} mm" + (f", {held:.0f} mL" if held else "")


def pot_name(pot: PotPlan) -> str:
    """Return a name for the pot of a plan."""
    return f"Pot, {pot.diameter_mm:g} mm across"


def _vessel(pot: PotPlan) -> Vessel:
    return Vessel(
        name=pot_name(pot), volume_ml=1.0, diameter_mm=pot.diameter_mm, height_mm=pot.height_mm,
        wall=pot.wall,
    )  # fmt: skip


def _same(vessel: Vessel, pot: PotPlan) -> bool:
    wall = vessel.wall or pot.wall
    return (vessel.diameter_mm, vessel.height_mm, wall) == (
        pot.diameter_mm, pot.height_mm, pot.wall
    )  # fmt: skip


def _round(across: float) -> Vessel:
    return Vessel(name=f"Pot, {across:g} mm across", volume_ml=1.0, diameter_mm=across)


def _choices(
    own: tuple[str, T] | None, shelf: list[tuple[str, T]], usual: list[tuple[str, T]]
) -> tuple[Choice[T], ...]:
    """Return the choices once each by name; the plan's own thing first if no shelf has it."""
    made = [
        *(Choice(name, "This kitchen's own", thing) for name, thing in shelf),
        *(Choice(name, "Usual ones", thing) for name, thing in usual),
    ]
    if own is not None and not any(one.thing == own[1] for one in made):
        taken = {one.name.casefold() for one in made}
        name = own[0] if own[0].casefold() not in taken else f"{own[0]}, as saved"
        made.insert(0, Choice(name, "In this plan", own[1]))
    once: dict[str, Choice[T]] = {}
    for one in made:
        once.setdefault(one.name.casefold(), one)
    return tuple(once.values())
