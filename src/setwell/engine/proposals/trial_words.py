"""A trial set in plain lines: what each cup changes and asks, what it should be, what to read."""

from setwell.domain.brief import Brief, Plating
from setwell.engine.proposals.draft import ProposalDraft
from setwell.engine.proposals.trial_design import HARDLY_FELT, Point
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.units import temperature_print

_CENTER_ASKS = (
    "What does the proposal itself come to?",
    "How far apart are two cups of the same? Smaller differences between cups mean nothing.",
    "Has anything drifted from the first cup to the last?",
)
_SMALL_POT = (
    "A cup's worth in a pot boils off fast: weigh pot and all before and after, and make up the "
    "loss with hot water, or hold the cups in a bath under film."
)


def question(point: Point, draft: ProposalDraft, *, repeat: int, step: float) -> str:
    """Return what a cup is to answer; `repeat` counts the cups of the center from 0.

    `step` is one step of the dose; what is changed by more than that asks how far to go.
    """
    if point.kind == "center":
        return _CENTER_ASKS[min(repeat, len(_CENTER_ASKS) - 1)]
    if point.kind == "dose":
        word = "more" if point.factor > 1 else "less"
        if max(point.factor, 1.0 / point.factor) > step * 1.001:
            return f"Two steps {word}: does it go on in the same way, or turn?"
        return f"What does a step {word} of every agent do?"
    if point.kind == "ratio":
        name = draft.agents[point.which].line_name
        return f"What does {name} bring, at the same total dose?"
    name = draft.helpers[point.which]
    return f"Is the {name} needed?" if point.factor <= 0 else f"Does twice the {name} help?"


def change(point: Point, draft: ProposalDraft) -> str:
    """Return what is different from the center."""
    if point.kind == "center":
        return "the proposal as it is"
    if point.kind == "dose":
        return f"{point.factor:.3g} times the dose of every agent"
    if point.kind == "ratio":
        return f"more {draft.agents[point.which].line_name}, less of the rest"
    name = draft.helpers[point.which]
    return f"no {name}" if point.factor <= 0 else f"twice the {name}"


def against(texture: Texture, center: Texture) -> str:
    """Return how a cup is computed to differ from the center, and whether that is felt."""
    if texture.sets is not center.sets:
        return {
            Verdict.YES: "Sets, where the center may not.",
            Verdict.CANNOT_TELL: "Close to the edge of setting.",
            Verdict.NO: "Does not set.",
        }[texture.sets]
    pairs = (
        ("stiff", texture.modulus_kpa, center.modulus_kpa),
        ("thick", texture.viscosity_mpa_s, center.viscosity_mpa_s),
    )
    for word, one, other in pairs:
        if one is not None and other is not None and other.value > 0:
            ratio = one.value / other.value
            is_felt = max(ratio, 1.0 / max(ratio, 1e-9)) >= HARDLY_FELT
            felt = "" if is_felt else ", hardly felt"
            if not 0.1 <= ratio <= 10.0:
                much = "More than ten times" if ratio > 1.0 else "Less than a tenth"
                return f"{much} as {word} as the center."
            return f"About {ratio:.2g} times as {word} as the center{felt}."
    return ""


def measures(brief: Brief, texture: Texture) -> tuple[str, ...]:
    """Return what to read of every cup, the same way and at the same age."""
    at = temperature_print(brief.serving_c)
    found = ["°C when poured", "Minutes until it stands when the cup is tilted"]
    if texture.sets is Verdict.NO:
        found = ["°C when filled", f"Thickness: seconds through a funnel, or mPa·s, at {at}"]
    else:
        found += [f"Load at break under a plunger in g, two places, at {at}",
                  "Depth at break in mm"]  # fmt: skip
        if brief.plating in {Plating.UNMOLDS, Plating.ANY}:
            found.append("Unmolds whole: yes or no, and height after 5 min in mm")
        found.append("Water given off after 24 h in g")
    if brief.holds_c is not None:
        found.append(f"Still stands after 10 min at {temperature_print(brief.holds_c)}: yes or no")
    if brief.keeps_afloat:
        found.append("After a day at rest: what has sunk, in mm at the bottom of a glass")
    if brief.is_frozen:
        found.append("After a night in the freezer and thawing: water in g, and what it looks like")
    return (*found, "pH", "Trade words of two tasters who do not know the codes")


def remarks(
    draft: ProposalDraft, *, is_heated: bool, too_light: tuple[str, ...]
) -> tuple[str, ...]:
    """Return what makes the cups comparable, and what the scale cannot hold."""
    told = [
        "Keep everything else the same: base, pot, times, cup, fridge shelf and age when read.",
        "Make the cups in this order; the center comes first, in between and last.",
        "Hand them to tasters by code only, each in an order of their own.",
        "One thing changes at a time, so the set does not tell how two changes work together.",
    ]
    if is_heated:
        told.insert(1, _SMALL_POT)
    if draft.helpers:
        told.append("Leave out the step of a powder that a cup does not take.")
    if too_light:
        told.append(
            f"Too little {' and '.join(too_light)} for this scale and too much for a stock: take "
            "a finer scale or larger cups."
        )
    if len(draft.agents) > 1:
        told.append("In the cups of the ratio the total of all agents stays that of the center.")
    return tuple(told)
