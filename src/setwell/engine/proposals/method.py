"""The method of a proposal: steps that bring its agents to work within the limits of the brief.

Order of the steps: what the base does to its own food, buffer and acid that has to be hot,
cellulose ethers in the cold, powders and slurries, heat, potassium, gelatin, late acid, food that
the base takes in late, calcium, the mold, the cold, the table.
"""

from collections.abc import Iterable, Sequence

from setwell.domain.brief import Brief, Helper, Plating
from setwell.domain.steps import step_parse
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.powder_handling import heat_text, hold_min, steps_text
from setwell.engine.proposals.base import BriefBase
from setwell.engine.proposals.pot_set import FRIDGE_C, HOT_POWDER_C, MELT_IN_C, PotSet
from setwell.tables.agents import agent_rows
from setwell.units import temperature_print

_CITRATE, _LACTATE = Helper.TRISODIUM_CITRATE.value, Helper.CALCIUM_LACTATE.value
_OVERNIGHT_H, _CHILL_H, _ETHER_H, _ALGINATE_MIN = 12, 4, 6, 120
# Hot liquid this warm keeps a cellulose ether from dissolving while it is wetted [°C].
_WETS_C = 60.0
_ROOM_C = 20.0
# A hot gel of a cellulose ether is warmed this far beyond where it begins [°C].
_FIRM_C, _FIRM_MIN = 10.0, 5


def method_for(
    base: BriefBase,
    brief: Brief,
    agents: tuple[BlendAgent, ...],
    helpers: tuple[str, ...],
    pour_c: float | None = None,
) -> str:
    """Return the steps for some agents together, one per line; `pour_c` is above their set."""
    pot = PotSet(base, brief, agents, helpers, pour_c)
    parts = (_opening, _ethers, _dispersed, _heated, _melted, _soured)
    last = (_calcium, _cast, _served)
    cool = [f"Cool to {temperature_print(_ROOM_C)}"] if base.own.is_hot else []
    return steps_text([
        *base.own.early, *cool, *(step for part in parts for step in part(pot)),
        *base.own.late, *(step for part in last for step in part(pot)), *base.own.end,
    ])  # fmt: skip


def _opening(pot: PotSet) -> Iterable[str]:
    if pot.citrate:
        yield f"Dissolve the {_CITRATE} in the cold base"
    if pot.has_acid_early:
        yield _sour(pot.base.late_acids)


def _ethers(pot: PotSet) -> Iterable[str]:
    """Wet cellulose ethers hot, where they do not dissolve, and dissolve them in the cold."""
    if not pot.ethers:
        return
    names = _names(pot.ethers)
    if pot.base_c and not pot.hot:
        yield heat_text(pot.heat_c, pot.hold_min)
        yield f"Cool to {temperature_print(_ROOM_C)}"
    if pot.most_c >= _WETS_C:
        wet = temperature_print(min(HOT_POWDER_C, pot.most_c))
        yield f"Heat a third of the base to {wet}"
        yield f"Disperse the {names} in it under a whisk until every grain is wet"
        yield "Add the rest of the base ice-cold"
    else:
        yield _dispersal(pot, pot.ethers)
    yield f"Chill to {temperature_print(FRIDGE_C)} for {_ETHER_H} h, stirring now and then"


def _dispersed(pot: PotSet) -> Iterable[str]:
    if pot.powders:
        yield _dispersal(pot, pot.powders)
    for one in pot.starches:
        yield f"Stir the {_name(one)} to a slurry in three times its weight of the cold base"


def _dispersal(pot: PotSet, agents: Sequence[BlendAgent]) -> str:
    """Return how powder is kept from clumping: apart in sugar, by a blender, or bit by bit."""
    weight = "its weight" if len(agents) == 1 else "their weight"
    carrier = pot.base.carrier
    dry = f", dry-mixed with five times {weight} of the {carrier}," if carrier else ""
    if pot.brief.limits.has_blender:
        how = " with a blender"
    else:
        how = " under a fast whisk" if carrier else " little by little under a fast whisk"
    return f"Disperse the {_names(agents)}{dry} in the cold base{how}"


def _heated(pot: PotSet) -> Iterable[str]:
    if not pot.hot and pot.powders:
        yield f"Rest for {max(_rest_min(one.key) for one in pot.powders):g} min"
    if pot.hot or (pot.base_c and not pot.ethers):
        yield heat_text(pot.heat_c, pot.hold_min)
    for name in pot.helpers:
        if name not in {_CITRATE, _LACTATE}:
            yield f"Stir in the {name}, dissolved in a little water"


def _rest_min(key: str) -> float:
    """Return how long a cold powder swells; alginate longer, as calcium slows it."""
    return _ALGINATE_MIN if key == "sodium_alginate" else hold_min(key)


def _melted(pot: PotSet) -> Iterable[str]:
    """Melt bloomed gelatin in once nothing is hotter than it stands."""
    if not pot.soaked:
        return
    names, minutes = _names(pot.soaked), max(hold_min(one.key) for one in pot.soaked)
    is_hot = pot.hot or (pot.base_c and not pot.ethers)
    at = temperature_print(pot.melt_in_c if is_hot else min(MELT_IN_C, pot.most_c))
    if is_hot and pot.heat_c > pot.melt_in_c:
        yield f"Cool to {at}"
    cold = _kept_cold(pot) if is_hot else "the cold base"
    yield f"Bloom the {names} in about five times its weight of {cold} for 10 min"
    if is_hot:
        yield f"Stir in the bloomed {names}"
        yield f"Hold at {at} for {minutes:g} min, stirring all the time"
    else:
        yield f"Heat to {at} and hold for {minutes:g} min, stirring all the time"


def _kept_cold(pot: PotSet) -> str:
    """Return what gelatin blooms in where the base is hot; never egg that is not cooked then."""
    return "base set aside before the egg goes in" if pot.base_c else "base kept back cold"


def _soured(pot: PotSet) -> Iterable[str]:
    if not pot.has_acid_late:
        return
    is_hot = pot.is_heated and not pot.soaked and not pot.takes_acid_hot
    if is_hot and pot.heat_c > pot.late_c:
        yield f"Cool to {temperature_print(pot.late_c)}"
    yield _sour(pot.base.late_acids)


def _sour(acids: Sequence[str]) -> str:
    """Return the step that takes the acid in, so that it reads as acid."""
    text = f"Stir in the {' and the '.join(acids)}"
    return text if step_parse(text).is_acid_addition else f"Stir in the acid: {', '.join(acids)}"


def _calcium(pot: PotSet) -> Iterable[str]:
    if _LACTATE in pot.helpers:
        warm = "hot " if pot.is_heated else ""
        yield (
            f"Stir in the {_LACTATE} last, dissolved in a little {warm}water, in a thin stream "
            "under a fast whisk"
        )


def _cast(pot: PotSet) -> Iterable[str]:
    pour = f"Pour into {pot.vessel}"
    if pot.has_alginate:
        # A gel from within is hard to hit; a bath gives drops and threads without haste.
        pour += "; for drops, leave calcium out and set them in a bath of 1 % calcium lactate"
    elif pot.pour_c is not None and pot.hot and pot.pour_c < _now_c(pot):
        pour += f" while above {temperature_print(pot.pour_c)}"
    elif pot.hot and pot.sets_cold and not pot.is_liquid:
        pour += " at once"
    yield pour


def _now_c(pot: PotSet) -> float:
    """Return how warm it is before pouring."""
    if pot.soaked:
        return min(pot.melt_in_c, pot.heat_c)
    cooled = pot.has_acid_late and not pot.takes_acid_hot
    return min(pot.late_c, pot.heat_c) if cooled else pot.heat_c


def _served(pot: PotSet) -> Iterable[str]:
    yield from _cold_or_hot(pot)
    if pot.brief.plating is Plating.UNMOLDS:
        yield "Unmold"


def _cold_or_hot(pot: PotSet) -> Iterable[str]:
    """Return how it is chilled, and warmed again where it is served warm."""
    served = min(pot.brief.serving_c, pot.most_c)
    if pot.is_liquid and pot.is_served_warm and not pot.ethers:
        # A sauce has nothing to set in the cold.
        yield f"{'Cool' if pot.is_heated and pot.heat_c > served else 'Heat'} to " + (
            temperature_print(served)
        )
        return
    sets_above = pot.pour_c is not None and pot.pour_c > served
    if not pot.is_served_warm or (pot.sets_cold and not sets_above):
        cold = min(pot.brief.serving_c, FRIDGE_C)
        is_long = bool(pot.soaked) or pot.has_alginate
        yield f"Chill to {temperature_print(cold)} for {_OVERNIGHT_H if is_long else _CHILL_H} h"
    if not pot.is_served_warm:
        return
    if pot.ethers:
        firm = max(served, *(_sets_hot_c(one.key) + _FIRM_C for one in pot.ethers))
        yield f"Heat to {temperature_print(min(firm, pot.most_c))} and hold for {_FIRM_MIN} min"
    elif pot.sets_cold and not sets_above:
        yield f"Heat gently to {temperature_print(served)}"
    else:
        is_hotter = pot.is_heated and pot.heat_c > served
        yield f"{'Cool' if is_hotter else 'Heat'} to {temperature_print(served)}"


def _sets_hot_c(key: str) -> float:
    return agent_rows()[key].figure("setting_temperature").value


def _name(agent: BlendAgent) -> str:
    """Return an agent as a step names it: a ready blend must not read as work of a blender."""
    return agent.line_name.removesuffix(" blend")


def _names(agents: Sequence[BlendAgent]) -> str:
    return " and the ".join(_name(one) for one in agents)
