"""Change a plan by the names of the kitchen's things, as the command line asks."""

from dataclasses import dataclass
from typing import Any, TypeVar

from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.equipment import MoldForm
from setwell.domain.formula import Formula
from setwell.domain.process_plan import CoolPlan, PotPlan, PotStirring, ProcessPlan
from setwell.errors import InputError, UnknownNameError
from setwell.services.process import plan_of
from setwell.services.process_equipment import Choice, equipment_choices, found

T = TypeVar("T")

# What the numbers are called, with their units, and how their limits are told.
_NUMBERS = {
    "power_w": ("A power of", "W"), "batch_g": ("A batch of", "g"), "start_c": ("A start at", "°C"),
    "target_c": ("Heating to", "°C"), "hold_min": ("A hold of", "min"), "count": ("Molds:", ""),
    "pour_c": ("A pour at", "°C"), "counter_min": ("On the counter for", "min"),
    "serving_c": ("Serving at", "°C"),
    "room_c": ("A kitchen at", "°C"),
}  # fmt: skip
_BOUNDS = {"ge": "at least", "gt": "more than", "le": "at most", "lt": "less than"}

__all__ = ["CoolChanges", "PotChanges", "plan_changed"]


@dataclass(frozen=True, slots=True)
class PotChanges:
    """What to change of a pot; None leaves it as it is."""

    hob: str | None = None
    power_w: float | None = None
    pot: str | None = None
    lid: bool | None = None
    stirring: str | None = None
    batch_g: float | None = None
    start_c: float | None = None
    target_c: float | None = None
    hold_min: float | None = None
    room_c: float | None = None


@dataclass(frozen=True, slots=True)
class CoolChanges:
    """What to change of molds and cold place; None leaves it as it is."""

    mold: str | None = None
    lid: bool | None = None
    count: int | None = None
    pour_c: float | None = None
    counter_min: float | None = None
    cooler: str | None = None
    serving_c: float | None = None
    room_c: float | None = None


def plan_changed(
    *,
    formula: Formula,
    formula_id: int | None = None,
    number: int | None = None,
    pot: PotChanges | None = None,
    cooling: CoolChanges | None = None,
) -> ProcessPlan:
    """Return the plan in force of a formula, with some of it changed.

    Raises UnknownNameError for a thing that the kitchen does not have, DocumentError for a number
    that cannot be.
    """
    plan = plan_of(formula=formula, formula_id=formula_id, number=number).plan
    try:
        if pot is not None:
            plan = plan.model_copy(update={"pot": _pot(plan, pot)})
        if cooling is not None:
            plan = plan.model_copy(update={"cooling": _cooling(plan, cooling)})
    except ValidationError as error:
        raise _out_of_range(error) from None
    return plan


def _out_of_range(error: ValidationError) -> InputError:
    """Return what is wrong with a number in a sentence: which, how much, and what would do."""
    first: Any = error.errors()[0]
    field = str(first["loc"][-1]) if first["loc"] else ""
    bound = next((key for key in _BOUNDS if key in first.get("ctx", {})), None)
    if field not in _NUMBERS or bound is None:
        return document_error(error)
    what, unit = _NUMBERS[field]
    given, limit = (
        f"{number:g} {unit}".strip() for number in (first["input"], first["ctx"][bound])
    )
    return InputError(
        f"{what} {given} cannot be computed.", field=field, hint=f"Give {_BOUNDS[bound]} {limit}."
    )


def _pot(plan: ProcessPlan, changes: PotChanges) -> PotPlan:
    kit = equipment_choices(plan)
    base = plan.pot or PotPlan()
    update: dict[str, object] = {}
    hob = base.hob if changes.hob is None else _named(kit.hobs, changes.hob, "hob")
    if changes.power_w is not None:
        hob = hob.model_copy(update={"power_w": changes.power_w})
    update["hob"] = hob
    if changes.pot is not None:
        vessel = _named(kit.pots, changes.pot, "pot")
        update |= {"diameter_mm": vessel.diameter_mm, "height_mm": vessel.height_mm}
        update["wall"] = vessel.wall or base.wall
    if changes.stirring is not None:
        update["stirring"] = _stirring(changes.stirring)
    for name in ("lid", "batch_g", "start_c", "target_c", "hold_min", "room_c"):
        value = getattr(changes, name)
        if value is not None:
            update[name] = value
    # Through validation again, so that a number out of range names its field.
    return PotPlan.model_validate({**base.model_dump(), **_plain(update)})


def _cooling(plan: ProcessPlan, changes: CoolChanges) -> CoolPlan:
    kit = equipment_choices(plan)
    base = plan.cooling or CoolPlan(mold=MoldForm(volume_ml=100.0))
    update: dict[str, object] = {}
    mold = base.mold if changes.mold is None else _named(kit.molds, changes.mold, "mold")
    if changes.lid is not None:
        mold = mold.model_copy(update={"lid": changes.lid})
    update["mold"] = mold
    if changes.cooler is not None:
        update["cooler"] = _named(kit.coolers, changes.cooler, "cold place")
    for name in ("count", "pour_c", "counter_min", "serving_c", "room_c"):
        value = getattr(changes, name)
        if value is not None:
            update[name] = value
    return CoolPlan.model_validate({**base.model_dump(), **_plain(update)})


def _plain(update: dict[str, object]) -> dict[str, object]:
    return {
        name: value.model_dump() if hasattr(value, "model_dump") else value
        for name, value in update.items()
    }


def _stirring(word: str) -> PotStirring:
    try:
        return PotStirring(word.strip().lower())
    except ValueError:
        known = ", ".join(PotStirring)
        raise InputError(
            f"“{word[:30]}” is not a way to stir.", field="stirring", hint=f"Use one of {known}."
        ) from None


def _named(choices: tuple[Choice[T], ...], name: str, what: str) -> T:
    thing = found(choices, name)
    if thing is None:
        names = tuple(one.name for one in choices)
        raise UnknownNameError(
            f"There is no {what} “{name[:60]}” in this kitchen.",
            field=what,
            hint=f"Known are: {'; '.join(names)}.",
            nearest=names[:3],
        )
    return thing
