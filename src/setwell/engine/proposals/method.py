"""The method of a proposal: steps that bring its agents to work within the limits of the brief."""

from setwell.domain.brief import Brief
from setwell.engine.blend_formula import BlendAgent
from setwell.engine.proposals.base import BriefBase
from setwell.engine.rules.dispersion import needed_c
from setwell.engine.substitution.method import Family, family_of, hold_min, steps_text
from setwell.units import temperature_print

_BOILS_C = 95.0
_WARM_C, _FRIDGE_C = 25.0, 4.0


def method_for(
    base: BriefBase, brief: Brief, agents: tuple[BlendAgent, ...], helpers: tuple[str, ...]
) -> str:
    """Return the steps for some agents together, one per line."""
    by_family: dict[Family, list[BlendAgent]] = {}
    for agent in agents:
        by_family.setdefault(family_of(agent.key), []).append(agent)
    soaked = by_family.get(Family.SOAKED, [])
    hot = [*by_family.get(Family.SLURRY, []), *by_family.get(Family.HOT, [])]
    steps = [f"Bloom the {one.line_name} in some of the cold base" for one in soaked]
    powders = [*by_family.get(Family.COLD, []), *hot]
    if powders:
        names = " and the ".join(one.line_name for one in powders)
        steps.append(f"Disperse the {names} in the cold base with a blender")
    if hot or soaked:
        needed = max([60.0 for _ in soaked] + [needed_c(one.key) for one in hot])
        steps.append(_heat(min(needed, brief.limits.max_temperature_c),
                           max(hold_min(one.key) for one in (*hot, *soaked))))  # fmt: skip
    elif powders:
        steps.append(f"Rest for {max(hold_min(one.key) for one in powders):g} min")
    steps += [f"Stir in the {name}, dissolved in a little water" for name in helpers]
    if base.late_acids and not brief.limits.is_acid_hot:
        steps.append(f"Cool to 60 °C and stir in the {' and the '.join(base.late_acids)}")
    steps.append("Pour into molds")
    if brief.serving_c > _WARM_C:
        steps.append(f"Cool to {brief.serving_c:g} °C")
    else:
        steps.append(f"Chill to {min(brief.serving_c, _FRIDGE_C):g} °C for 12 h")
    return steps_text(steps)


def _heat(needed: float, minutes: float) -> str:
    held = f"{minutes:g} min, stirring all the time"
    if needed >= _BOILS_C:
        return f"Bring to a boil and boil for {held}"
    return f"Heat to {temperature_print(needed)} and hold for {held}"
