"""The drawings of proposals, each with the same numbers as a table."""

import math
from collections.abc import Iterable
from dataclasses import dataclass

from setwell.documents.amounts import number_text
from setwell.documents.drawing import ChartTable
from setwell.documents.flow_chart import Landmark
from setwell.documents.front_chart import FrontChart, FrontPoint, front_chart_svg
from setwell.documents.stranger_words import ten_text
from setwell.documents.texture_map import (
    TextureMap,
    TexturePoint,
    TextureRegion,
    texture_map_svg,
    texture_map_table,
)
from setwell.documents.texture_sheet import map_regions, texture_point
from setwell.documents.thickness_axis import (
    ThicknessAxis,
    ThicknessPoint,
    thickness_axis_svg,
    thickness_table,
)
from setwell.engine.proposals.results import Proposal, Proposals
from setwell.engine.proposals.wishes import Wish
from setwell.engine.texture_results import Texture
from setwell.engine.verdict import Verdict
from setwell.tables.rules import viscosity_landmarks

_OPEN = (None, None)
# Nearer than this no taster tells them apart.
_CLOSE = 0.25
_OFF_BY = "Off by (0: right, 1: a taster notices)"
_HEADER = ("Number", "Proposal", "Off by", "Cost per portion", "Right at home", "Things to weigh",
           "Unbeaten")  # fmt: skip


@dataclass(frozen=True, slots=True)
class ProposalChart:
    """A drawing with its heading, what it says, and the table beside it."""

    key: str
    title: str
    says: str
    svg: str
    table: ChartTable


def proposal_charts(
    found: Proposals, wishes: tuple[Wish, ...], like: Texture | None, currency: str
) -> tuple[ProposalChart, ...]:
    """Return the map, the axis of thickness and the front, those that have something to show."""
    charts = (_map(found, wishes, like), _axis(found, wishes), _front(found, currency))
    return tuple(chart for chart in charts if chart is not None)


def _map(found: Proposals, wishes: tuple[Wish, ...], like: Texture | None) -> ProposalChart | None:
    points: list[TexturePoint] = []
    marks: list[str] = []
    for number, proposal in enumerate(found.proposals, start=1):
        texture = proposal.texture
        if texture.sets is Verdict.NO:
            continue
        point = texture_point(texture.map_point, label=proposal.name, kind="candidate")
        if point is not None:
            points.append(point)
            marks.append(str(number))
    if not points:
        return None
    wanted = texture_point(like.map_point, label="like this", kind="reference") if like else None
    if wanted is not None:
        points.append(wanted)
        marks.append("like")
    chart = TextureMap(
        "Where they lie on the texture map", tuple(points), map_regions(), marks=tuple(marks),
        asked=_asked_region(wishes),
    )  # fmt: skip
    says = "The number is that of the proposal, the ring around it where 19 of 20 batches lie."
    if chart.asked is not None:
        says += " The broken edge is what you asked for."
    return ProposalChart("map", chart.title, says, texture_map_svg(chart), texture_map_table(chart))


def _asked_region(wishes: tuple[Wish, ...]) -> TextureRegion | None:
    strain, stress = _window(wishes, "strain"), _window(wishes, "stress")
    if strain == _OPEN and stress == _OPEN:
        return None
    return TextureRegion(
        "asked", "asked for", strain[0] or 0.0, math.inf if strain[1] is None else strain[1],
        stress[0] or 0.0, math.inf if stress[1] is None else stress[1],
    )  # fmt: skip


def _window(wishes: Iterable[Wish], quantity: str) -> tuple[float | None, float | None]:
    """Return from where to where all wishes together let one quantity lie."""
    windows = [one for wish in wishes for one in wish.windows if one.quantity == quantity]
    lows = [one.low for one in windows if one.low is not None]
    highs = [one.high for one in windows if one.high is not None]
    return max(lows, default=None), min(highs, default=None)


def _axis(found: Proposals, wishes: tuple[Wish, ...]) -> ProposalChart | None:
    points = []
    asked = _window(wishes, "thickness")
    for number, proposal in enumerate(found.proposals, start=1):
        sets, thick = proposal.texture.sets, proposal.texture.viscosity_mpa_s
        # What may or may not set is a gel to whoever asks for one.
        flows = sets is Verdict.NO or (sets is not Verdict.YES and asked != _OPEN)
        if not flows or thick is None or not thick.value > 0.0:
            continue
        low, high = (thick.value if end is None else end for end in (thick.low, thick.high))
        ends = max(low, 1e-3), min(high, 1e9)
        points.append(ThicknessPoint(str(number), proposal.name, thick.value, *ends))
    if not points:
        return None
    known = tuple(Landmark(one.name, one.viscosity) for one in viscosity_landmarks())
    chart = ThicknessAxis("How thick they are", tuple(points), *asked, landmarks=known)
    says = "The bar is the range of each; below the line are liquids you know."
    return ProposalChart("axis", chart.title, says, thickness_axis_svg(chart),
                         thickness_table(chart))  # fmt: skip


def _front(found: Proposals, currency: str) -> ProposalChart | None:
    if len(found.proposals) < 2:
        return None
    has_costs = sum(_cost(one) is not None for one in found.proposals) >= 2
    # Where all are right on paper, what tells them apart is how many kitchens miss it.
    is_close = all(one.fit < _CLOSE for one in found.proposals)
    by_chance = is_close and all(one.chance is not None for one in found.proposals)
    points = tuple(
        FrontPoint(
            str(number), one.name, _cost(one) if has_costs else float(one.ingredients),
            _missing(one) if by_chance else one.fit, _beside(one, has_chance=not by_chance),
            one.is_best,
        )
        for number, one in enumerate(found.proposals, start=1)
    )  # fmt: skip
    chart = FrontChart(
        "How near, at what cost", points,
        f"Cost of a portion, {currency}" if has_costs else "Things to weigh",
        "Of 10 home kitchens, so many miss it" if by_chance else _OFF_BY,
    )  # fmt: skip
    rows = tuple(_row(number, one, currency) for number, one in enumerate(found.proposals, 1))
    says = _front_says(has_costs, by_chance) + _not_drawn(points)
    table = ChartTable(_HEADER, rows)
    return ProposalChart("front", chart.title, says, front_chart_svg(chart), table)


def _front_says(has_costs: bool, by_chance: bool) -> str:  # noqa: FBT001 - what is drawn
    beside = "× and how many things you weigh"
    if not by_chance:
        beside += ", and in how many home kitchens of 10 it comes out right"
    says = f"Low and left is better. Beside each: {beside}. Filled: nothing else is better in "
    says += "closeness, cost, chance and number of things at once."
    cheap = " A cost is the least it can be while prices are missing in the pantry."
    none = " Without prices in the pantry, cost cannot be compared."
    return says + (cheap if has_costs else none)


def _not_drawn(points: tuple[FrontPoint, ...]) -> str:
    missing = [one.mark for one in points if one.across is None]
    return f" Not drawn, as no price is known: {', '.join(missing)}." if missing else ""


def _missing(proposal: Proposal) -> float:
    return 10.0 * (1.0 - proposal.chance.value) if proposal.chance is not None else 10.0


def _beside(proposal: Proposal, *, has_chance: bool) -> str:
    chance = proposal.chance
    weighed = f"×{proposal.ingredients}"
    return f"{weighed}, {ten_text(chance.value)}" if chance and has_chance else weighed


def _cost(proposal: Proposal) -> float | None:
    cost = proposal.cost_per_portion
    return cost.value if cost is not None and math.isfinite(cost.value) else None


def _row(number: int, proposal: Proposal, currency: str) -> tuple[str, ...]:
    cost, chance = proposal.cost_per_portion, proposal.chance
    known = _cost(proposal)
    least = "at least " if cost is not None and cost.is_lower_bound else ""
    return (
        str(number), proposal.name, number_text(proposal.fit, digits=2),
        "not known" if known is None else f"{least}{number_text(known)} {currency}",
        "not judged" if chance is None else ten_text(chance.value), str(proposal.ingredients),
        "yes" if proposal.is_best else "no",
    )  # fmt: skip
