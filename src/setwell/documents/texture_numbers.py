"""The numbers of a texture, each with the plain words a cook needs beside it."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.engine.assessment import AgentResult, Assessment, Texture, Verdict
from setwell.engine.texture_results import Requirement, ZoneShare
from setwell.provenance import Estimate
from setwell.tables.rules import flow_words, texture_regions

_NEAR_MOUTH = ": it melts close to the warmth of a mouthful"


# A zone this far behind the best one is worth a word.
_LAGS = 0.05


@dataclass(frozen=True, slots=True)
class TextureNumber:
    """One thing known of a texture: a number, words, or words with the number behind them."""

    key: str
    label: str
    estimate: Estimate | None = None
    words: str = ""
    remark: str = ""


def texture_numbers(assessment: Assessment) -> tuple[TextureNumber, ...]:
    """Return what is known of the texture of a formula, most wanted first."""
    texture = assessment.texture
    if not assessment.agents:
        return ()
    found = (
        *_gel(texture),
        *_liquid(texture),
        *_setting(assessment),
        *_melting(texture),
        *_look(texture),
    )
    return tuple(one for one in found if one.estimate is not None or one.words)


def word_meanings(texture: Texture) -> tuple[tuple[str, str], ...]:
    """Return each trade word of a texture with what it means at the table."""
    if texture.sets is Verdict.NO:
        known = {word.name: word.statement for word in flow_words()}
        return ((texture.flow_word, known[texture.flow_word]),) if texture.flow_word else ()
    meant = {region.name: region.statement for region in texture_regions()}
    return tuple((name, meant[name]) for name in texture.regions if name in meant)


def height_left(strain: Estimate) -> str:
    """Return the height a piece can be pressed to before it breaks, in words.

    >>> height_left(Estimate(0.5, "", 0.3, 0.8, "m"))
    '61 % of its height (45 to 74 %)'
    """
    left = 100.0 * math.exp(-strain.value)
    said = f"{_percent(left)} % of its height"
    if strain.low is None or strain.high is None or not strain.low < strain.high:
        return said
    ends = (100.0 * math.exp(-end) for end in (strain.high, strain.low))
    flat, tall = (_percent(end) for end in ends)
    return f"{said} ({flat} to {tall} %)"


def readings_told(assessment: Assessment) -> str:
    """Return on how many of the kitchen's own measurements the texture rests."""
    counts = [(agent.name, agent.gel.readings) for agent in assessment.agents]
    own = [f"{name} {count}" for name, count in counts if count]
    if not own:
        return (
            "None of your own measurements is behind these numbers yet: they come from the "
            "tables, so their ranges are wide."
        )
    return f"Own measurements behind these numbers: {', '.join(own)}."


def pot_told(zones: tuple[ZoneShare, ...]) -> str:
    """Return whether one part of the pot lags behind, and what to do; empty when none does.

    >>> pot_told((ZoneShare("bottom", 0.98), ZoneShare("middle", 0.9), ZoneShare("top", 0.6)))
    'The top lags: 60 % dissolves there, 98 % at the bottom. Stir, hold longer, and read the top.'
    """
    if not zones:
        return ""
    best = max(zones, key=lambda one: one.share)
    worst = min(zones, key=lambda one: one.share)
    if best.share - worst.share < _LAGS:
        return ""
    there, here = (_percent(100.0 * one.share) for one in (worst, best))
    return (
        f"The {worst.zone} lags: {there} % dissolves there, {here} % at the {best.zone}. "
        f"Stir, hold longer, and read the {worst.zone}."
    )


def requirement_told(need: Requirement) -> str:
    """Return what a gel needs besides dose and cold, and what was found.

    >>> requirement_told(Requirement("acid", "pH 4 or more", "6.4 (6.2 to 6.6) pH", Verdict.YES))
    'needs pH 4 or more; found pH 6.4 (6.2 to 6.6)'
    """
    found = need.found
    if found.endswith(" pH"):
        found = f"pH {found.removesuffix(' pH')}"
    return f"needs {need.need}" + (f"; found {found}" if found else "")


def _percent(share: float) -> str:
    return f"{share:.0f}" if share >= 1.0 else "under 1"


def _gel(texture: Texture) -> Iterable[TextureNumber]:
    if texture.sets is Verdict.NO:
        return
    yield TextureNumber("stiffness", "Stiffness", texture.modulus_kpa, texture.firmness)
    stress, strain = texture.fracture_stress_kpa, texture.fracture_strain
    yield TextureNumber("stress", "Stress at break", stress, remark="how hard it has to be pressed")
    words = "" if strain is None else f"pressed to {height_left(strain)}"
    yield TextureNumber("strain", "Strain at break", strain, words)


def _liquid(texture: Texture) -> Iterable[TextureNumber]:
    if texture.sets is Verdict.YES:
        return
    where = "if it stays liquid" if texture.sets is Verdict.CANNOT_TELL else "as served"
    yield TextureNumber(
        "thickness",
        "Thickness, stirred",
        texture.viscosity_mpa_s,
        texture.flow_word,
        remark=f"at 50 1/s, {where}",
    )


def _setting(assessment: Assessment) -> Iterable[TextureNumber]:
    texture = assessment.texture
    if texture.sets is Verdict.NO:
        return
    setting = [agent for agent in assessment.agents if agent.sets is not Verdict.NO]
    second = texture.second_set_c
    named = (
        ("first_set", "Sets at" if second is None else "First gel sets at", texture.first_set_c),
        ("second_set", "Second gel sets at", second),
    )
    for key, label, estimate in named:
        who = _whose(estimate, setting) if len(setting) > 1 else ""
        yield TextureNumber(key, label, estimate, remark=f"{who}while it cools")
    told: set[str] = set()
    for agent in setting:
        yield from _setting_of(agent, is_alone=len(setting) == 1, told=told)


def _whose(estimate: Estimate | None, agents: list[AgentResult]) -> str:
    """Return which agent sets there; empty where it is a gel of two together."""
    for agent in agents:
        own = agent.set_temperature_c
        if estimate and own and math.isclose(own.value, estimate.value, abs_tol=0.01):
            return f"{agent.name}, "
    return ""


def _setting_of(agent: AgentResult, *, is_alone: bool, told: set[str]) -> Iterable[TextureNumber]:
    name = "" if is_alone else f"{agent.name}: "
    if agent.gel.sets_on == "heating":
        key, label = f"heat_set:{agent.key}", _capital(f"{name}sets on heating at")
        yield TextureNumber(key, label, agent.set_temperature_c)
    # The same reason for the next agent need not be read again.
    note = "" if agent.practice_note in told else agent.practice_note
    told.add(agent.practice_note)
    yield TextureNumber(
        f"practice:{agent.key}",
        _capital(f"{name}kitchens see it set at"),
        agent.practice_set_c,
        remark=note,
    )
    law = agent.gel.other_set_name
    yield TextureNumber(
        f"other_law:{agent.key}",
        _capital(f"{name}sets at, other published law"),
        agent.gel.other_set_c,
        remark=f"by the {law}" if law else "",
    )


def _melting(texture: Texture) -> Iterable[TextureNumber]:
    if texture.sets is Verdict.NO:
        return
    melts = texture.melt_c
    words = texture.melts if melts is None else ""
    yield TextureNumber("melts", "Melts at" if melts else "Melting", melts, words)
    mouth = texture.melts_in_mouth
    if mouth is not None:
        is_near = mouth is Verdict.CANNOT_TELL and melts is not None
        said = f"{mouth.value}{_NEAR_MOUTH if is_near else ''}"
        yield TextureNumber("mouth", "Melts in the mouth", words=said)


def _look(texture: Texture) -> Iterable[TextureNumber]:
    yield TextureNumber("clarity", "Looks", words=texture.clarity)
    if texture.modulus_kpa is None or texture.modulus_kpa.value <= 0.0:
        # More likely no gel than a gel: nothing to weep or to freeze.
        return
    yield TextureNumber("weeps", "Weeps", texture.weeps_pct, remark=_weeping(texture))
    yield TextureNumber("freezing", "Freezing", words=texture.freezing)


def _weeping(texture: Texture) -> str:
    if not texture.weeping:
        return "in a week in the fridge"
    day, three, _ = (amount for _, amount in texture.weeping)
    first, later = (number_text(amount, digits=2) for amount in (day, three))
    return (
        f"in a week in the fridge; {first} % after a day, {later} % after three, at the pace of a "
        "kappa gel"
    )


def _capital(text: str) -> str:
    return text[:1].upper() + text[1:]
