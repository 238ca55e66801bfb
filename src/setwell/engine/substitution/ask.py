"""What is asked of a substitution, and whether it can be answered."""

from dataclasses import dataclass, replace

import numpy as np

from setwell.engine.blend_formula import agents_nearest
from setwell.engine.catalog import Catalog
from setwell.engine.gelatin_grade import material_of_grade
from setwell.engine.material import Material
from setwell.engine.names import name_normalize, names_nearest
from setwell.engine.plan import Plan
from setwell.engine.resolve import Reading
from setwell.engine.substitution.results import Keep
from setwell.errors import InputError, OutOfRangeError, UnknownNameError

GELATIN = "gelatin"
EGG = "egg"
# As a pantry entry may hold them.
BLOOM_LEAST, BLOOM_MOST = 30.0, 400.0
STRENGTH_LEAST, STRENGTH_MOST = 0.1, 10.0


@dataclass(frozen=True, slots=True)
class SubstitutionAsk:
    """Which agent goes, and what comes instead.

    `replace` is a name, an agent's key or the number of a line; empty means the only agent.
    `by` names the new agent; empty with `bloom` or `strength` means another grade or lot of the
    same. With `is_removal` nothing comes instead. `target` overrides what is kept: kPa, mPa·s
    or °C. `strength` is that of a lot against the usual, 1 = as usual.
    """

    replace: str = ""
    by: str = ""
    bloom: float | None = None
    strength: float | None = None
    is_removal: bool = False
    keep: str = ""
    target: float | None = None


def keep_read(text: str) -> Keep | None:
    """Return what to keep; None where the formula decides."""
    if not text.strip():
        return None
    try:
        return Keep(text.strip().lower())
    except ValueError:
        raise InputError(
            f"“{text[:40]}” cannot be kept.",
            field="keep",
            hint=f"Choose one of {', '.join(Keep)}.",
        ) from None


def lines_checked(plan: Plan) -> None:
    """Refuse a formula that cannot be read or weighed as a whole."""
    unread = [reading for reading in plan.readings if not reading.is_usable]
    inside = plan.unread_inside()
    if unread:
        number, said = unread[0].number, unread[0].problem
    elif plan.problems:
        number, said = 0, plan.problems[0]
    elif inside:
        number, said = inside[0]
    else:
        return
    where = f"Line {number} of this formula cannot be read" if number else "It cannot be weighed"
    more = f" ({len(unread)} such lines)" if len(unread) > 1 else ""
    raise InputError(f"{where}{more}: {said}", field="formula", hint="Correct it first.")


def replaced_find(ask: SubstitutionAsk, plan: Plan, catalog: Catalog) -> tuple[Reading, ...]:
    """Return the lines that go: all of one agent, or all egg."""
    usable = [plan.readings[position] for position in plan.used]
    can = [one for one in usable if _replaceable(one)]
    if not can:
        raise InputError(
            f"“{plan.formula.title}” has no texture agent and no egg: there is nothing to replace.",
            field="replace",
            hint="An agent within another formula is replaced in that formula.",
        )
    wanted = ask.replace.strip()
    if not wanted:
        chosen = can[0]
        if len({_group(one) for one in can}) > 1:
            raise _which(can)
    else:
        chosen = _named(wanted, usable, can, catalog)
    return tuple(one for one in can if _group(one) == _group(chosen))


def _replaceable(reading: Reading) -> bool:
    material = reading.material
    return material is not None and (material.agent is not None or material.group == EGG)


def _group(reading: Reading) -> str:
    material = reading.material
    if material is None:
        return ""
    return EGG if material.agent is None else material.agent.key


def _which(can: list[Reading]) -> InputError:
    names = ", ".join(dict.fromkeys(name_of(one) for one in can))
    return InputError(
        f"This formula has more than one agent: {names}.",
        field="replace",
        hint="Choose the one that goes.",
    )


def name_of(reading: Reading) -> str:
    """Return the name of what a line brings."""
    return reading.line.name if reading.material is None else reading.material.name


def _named(wanted: str, usable: list[Reading], can: list[Reading], catalog: Catalog) -> Reading:
    if wanted.isascii() and wanted.isdigit():
        line = next((one for one in usable if one.number == int(wanted)), None)
        if line is None or line not in can:
            what = "no such line" if line is None else f"{name_of(line)} is no agent and no egg"
            raise InputError(
                f"Line {wanted}: {what}.", field="replace", hint=_offer([name_of(o) for o in can])
            )
        return line
    found = catalog.find(wanted)
    key = None if found is None else found.material.agent and found.material.agent.key
    for one in can:
        same = key is not None and _group(one) == key
        by_name = name_normalize(wanted) in {name_normalize(one.line.name), _group(one)}
        is_egg = found is not None and found.material.group == EGG and _group(one) == EGG
        if same or by_name or is_egg:
            return one
    names = [name_of(one) for one in can]
    if found is None:
        near = names_nearest(wanted, [name_normalize(name) for name in names]) or names
        near = agents_nearest(wanted, catalog) or near
        raise UnknownNameError(
            f"“{wanted[:60]}” is not known.", field="replace", hint=_offer(near), nearest=near
        )
    raise InputError(
        f"{found.material.name} is not in this formula as a line of its own.",
        field="replace",
        hint=_offer(names),
    )


def _offer(names: list[str] | tuple[str, ...]) -> str:
    return f"Choose one of: {', '.join(dict.fromkeys(names))}."


def new_material(ask: SubstitutionAsk, old: Material, catalog: Catalog) -> Material | None:
    """Return what comes instead; None for nothing, or where it is left open."""
    if ask.is_removal:
        if ask.by.strip():
            raise InputError(
                "It cannot both be left out and be replaced.",
                field="by",
                hint="Clear the new agent, or choose to replace.",
            )
        return None
    is_graded = ask.bloom is not None or ask.strength is not None
    if not ask.by.strip():
        if not is_graded:
            return None
        if old.agent is None:
            raise InputError("A grade needs an agent.", field="by", hint="Choose the new agent.")
        plain = old.key.partition(":")[2].partition(":")[0]
        found = catalog.materials.get(f"{old.key.partition(':')[0]}:{plain}", old)
    else:
        found = _agent_named(ask.by, catalog)
    found = _graded(ask, found)
    if _same(found, old):
        raise InputError(
            f"{old.name} of this grade is what the formula has already.",
            field="bloom" if ask.bloom is not None else "by",
            hint="Choose another agent, or another grade.",
        )
    return found


def _agent_named(name: str, catalog: Catalog) -> Material:
    found = catalog.find(name.strip()) or catalog.find(name.replace("_", " ").strip())
    if found is not None and found.material.agent is not None:
        return found.material
    near = agents_nearest(name, catalog)
    offer = f"Nearest: {', '.join(near)}." if near else "Choose one from the list."
    shown = name.strip()[:60]
    if found is not None:
        raise InputError(f"“{shown}” is not a texture agent.", field="by", hint=offer)
    raise UnknownNameError(f"“{shown}” is not known.", field="by", hint=offer, nearest=near)


def _graded(ask: SubstitutionAsk, found: Material) -> Material:
    side = found.agent
    if side is None:
        return found
    if ask.strength is not None:
        _between("strength", ask.strength, STRENGTH_LEAST, STRENGTH_MOST, "A lot's strength")
        found = replace(found, agent=replace(side, strength_factor=ask.strength))
    if ask.bloom is None:
        return found
    if side.key != GELATIN:
        raise InputError(
            f"Bloom is a strength of gelatin; {found.name} has none.",
            field="bloom",
            hint="Leave it empty, or say how strong the lot is against the usual.",
        )
    _between("bloom", ask.bloom, BLOOM_LEAST, BLOOM_MOST, "A Bloom")
    return material_of_grade(found, ask.bloom)


def _between(field: str, value: float, least: float, most: float, what: str) -> None:
    if not (np.isfinite(value) and least <= value <= most):
        raise OutOfRangeError(
            f"{what} of {value:g} is not possible.",
            field=field,
            hint=f"Write a number from {least:g} to {most:g}.",
        )


def _same(new: Material, old: Material) -> bool:
    if new.agent is None or old.agent is None or new.agent.key != old.agent.key:
        return False
    old_side, new_side = old.agent, new.agent
    same_lot = new_side.strength_factor == old_side.strength_factor
    return same_lot and new_side.bloom == old_side.bloom and new.name == old.name
