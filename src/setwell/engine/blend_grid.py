"""Two or three agents over all their ratios and over doses, computed in one batch."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Formula
from setwell.engine.blend_formula import DOSE_MOST_PCT, BlendAgent, BlendDraft, grid_rows
from setwell.engine.catalog import Catalog
from setwell.engine.gelling.doubt import Corrections
from setwell.engine.gelling.pair import pair_row
from setwell.engine.gelling.state import NO, STIRRING_RATE, YES
from setwell.engine.material import Span
from setwell.engine.pipeline import batch_assess
from setwell.engine.plan import Plan, plan_build
from setwell.engine.process import steps_read
from setwell.engine.spans import Spans
from setwell.engine.texture import TextureState
from setwell.engine.verdict import Verdict, verdict
from setwell.errors import InputError, MissingDataError
from setwell.tables.agents import agent_rows
from setwell.tables.rules import texture_regions

Array = NDArray[np.float64]

# Two agents in steps of 5 %, three in steps of 10 %.
_RATIOS, _DIVISIONS = 21, 10
# Doses beside the chosen one, as multiples of it; and those shown when none is chosen [%].
_MULTIPLES = (1 / 3, 0.5, 2 / 3, 0.8, 1.25, 1.5, 2.0, 2.5, 3.0)
_DOSES_PCT = (0.1, 0.2, 0.3, 0.5, 0.7, 1.0, 1.5, 2.0, 3.0)
# Water below which no agent dissolves, as a share of the base (our judgment).
_LEAST_WATER = 0.05
# So many times the highest usual dose is outside of any use (our judgment).
_FAR_OUTSIDE = 3.0
LIQUID, OPEN = "liquid", "open"


@dataclass(frozen=True, slots=True)
class BlendKind:
    """What a blend can become: the word of a part of the texture map, or why it has none."""

    key: str
    name: str


@dataclass(frozen=True, slots=True)
class BlendPoint:
    """One blend: shares of the agents, dose in percent, and what it becomes.

    Stiffness and stress in kPa, thickness in mPa·s at the shear of slow stirring. A blend without
    a gel has no stiffness, stress or strain.
    """

    shares: tuple[float, ...]
    dose_pct: float
    sets: Verdict
    kind: str
    modulus_kpa: Span | None
    stress_kpa: Span | None
    strain: Span | None
    thickness_mpa_s: Span | None


@dataclass(frozen=True, slots=True)
class BlendBest:
    """The blend of the grid that is best in one way; `what` says in which."""

    what: str
    shares: tuple[float, ...]


@dataclass(frozen=True, slots=True)
class BlendGrid:
    """Everything that the charts of a blend show.

    `now` is the blend asked for; `ratios` are 21 blends of two agents or 66 of three, at the same
    total dose; `doses` are other doses of the same ratio; `best` is marked among the ratios.
    """

    agents: tuple[BlendAgent, ...]
    shares: tuple[float, ...]
    dose_pct: float
    formula: Formula
    now: BlendPoint
    ratios: tuple[BlendPoint, ...]
    doses: tuple[BlendPoint, ...]
    best: tuple[BlendBest, ...]
    remarks: tuple[str, ...]
    warnings: tuple[str, ...]


def blend_kinds() -> tuple[BlendKind, ...]:
    """Return everything a blend can become, in a fixed order."""
    regions = tuple(BlendKind(one.key, one.name) for one in texture_regions())
    return (
        BlendKind(LIQUID, "liquid as served"),
        *regions,
        BlendKind(OPEN, "may or may not set"),
    )


def blend_grid(
    draft: BlendDraft,
    *,
    catalog: Catalog,
    parts: Mapping[str, Formula] | None = None,
    corrections: Mapping[str, Corrections] | None = None,
) -> BlendGrid:
    """Return all ratios and doses of a blend, from one pass over all of them.

    Raises InputError when the base cannot be read or holds no water to dissolve in.
    """
    plan = plan_build(draft.grid_formula, catalog=catalog, parts=parts or {})
    _base_checked(draft, plan)
    ratios = _ratio_shares(len(draft.agents))
    doses = _dose_steps(draft.ask.dose_pct)
    wanted = [(tuple(map(float, shares)), draft.ask.dose_pct) for shares in ratios]
    wanted += [(draft.shares, float(dose)) for dose in (*doses, draft.ask.dose_pct)]
    rows = np.array([[share * dose for share in shares] for shares, dose in wanted])
    state = batch_assess(
        plan,
        grid_rows(draft, plan, rows),
        steps=steps_read(draft.steps),
        corrections=corrections,
    )
    _water_checked(draft, float(state.composition.share("water_g")[-1]))
    tell = _teller(state.texture)
    points = tuple(tell(row, *one) for row, one in enumerate(wanted))
    at_ratios = points[: len(ratios)]
    return BlendGrid(
        draft.agents, draft.shares, draft.ask.dose_pct, draft.formula, points[-1], at_ratios,
        points[len(ratios) : -1], _best(draft.agents, at_ratios), draft.remarks,
        _dose_warnings(draft),
    )  # fmt: skip


def _base_checked(draft: BlendDraft, plan: Plan) -> None:
    needed = len(draft.agents) + len(draft.salts_pct) + (1 if draft.is_one_food else 0)
    unread = [reading for reading in plan.readings[:needed] if not reading.is_usable]
    if unread:
        raise InputError(
            f"“{unread[0].line.name}” cannot be read as a kitchen line.",
            field="base" if draft.is_one_food else "formula",
            hint=unread[0].problem,
        )


def _water_checked(draft: BlendDraft, share: float) -> None:
    if share >= _LEAST_WATER:
        return
    where = "This formula" if draft.ask.formula is not None else f"“{draft.ask.base}”"
    raise InputError(
        f"{where} brings next to no water ({100.0 * share:.2g} % of the batch), and agents "
        "dissolve in water only.",
        field="formula" if draft.ask.formula is not None else "base",
        hint="Choose a base with water in it.",
    )


def _ratio_shares(agents: int) -> Array:
    if agents == 2:
        second = np.linspace(0.0, 1.0, _RATIOS)
        return np.stack([1.0 - second, second], axis=1)
    steps = [
        (a, b, _DIVISIONS - a - b)
        for a in range(_DIVISIONS, -1, -1)
        for b in range(_DIVISIONS - a, -1, -1)
    ]
    return np.array(steps, dtype=np.float64) / _DIVISIONS


def _dose_steps(dose_pct: float) -> Array:
    if dose_pct <= 0.0:
        return np.array(_DOSES_PCT)
    doses = np.array(_MULTIPLES) * dose_pct
    return doses[doses <= DOSE_MOST_PCT]


def _teller(texture: TextureState) -> Callable[[int, tuple[float, ...], float], BlendPoint]:
    """Return what turns one row into a point; the arrays are prepared once for all rows."""
    kinds = _kinds(texture)
    gel = texture.gel
    stiff = stress = strain = thick = None
    if gel is not None:
        stiff, stress = gel.modulus.scaled(0.001), gel.fracture_stress.scaled(0.001)
        strain = gel.fracture_strain
    if texture.flow is not None:
        thick = texture.flow.at(STIRRING_RATE).scaled(1000.0)

    def tell(row: int, shares: tuple[float, ...], dose_pct: float) -> BlendPoint:
        # Where it may set, its range says how far.
        is_gel = gel is not None and gel.modulus.high[row] > 0
        return BlendPoint(
            shares, dose_pct, verdict(texture.sets[row]), kinds[row],
            _span(stiff, row) if is_gel else None,
            _span(stress, row) if is_gel else None,
            _span(strain, row) if is_gel else None,
            _span(thick, row),
        )  # fmt: skip

    return tell


def _span(spans: Spans | None, row: int) -> Span | None:
    if spans is None or not np.isfinite(spans.value[row]):
        return None
    value, low, high = (float(part[row]) for part in spans)
    return Span(value, low, high)


def _kinds(texture: TextureState) -> list[str]:
    """Return what each row becomes: the part of the map that its middle lies in."""
    count = len(texture.sets)
    found = np.full(count, OPEN, dtype=object)
    if texture.gel is not None:
        strain = texture.gel.fracture_strain.value
        stress = texture.gel.fracture_stress.value / 1000.0
        for one in texture_regions():
            wide = np.inf if one.strain_high is None else one.strain_high
            hard = np.inf if one.stress_high is None else one.stress_high
            inside = (strain >= one.strain_low) & (strain < wide)
            found[inside & (stress >= one.stress_low) & (stress < hard)] = one.key
        # A gel that has melted by the time it is served.
        found[(texture.sets == YES) & (texture.gel.modulus.value <= 0)] = LIQUID
    found[(texture.sets > NO) & (texture.sets < YES)] = OPEN
    found[texture.sets == NO] = LIQUID
    return [str(one) for one in found]


def _best(agents: tuple[BlendAgent, ...], points: tuple[BlendPoint, ...]) -> tuple[BlendBest, ...]:
    """Return the stiffest blend, and the one hardest to break as the pair's own law counts it."""
    found = []
    stiff = [0.0 if p.modulus_kpa is None else p.modulus_kpa.value for p in points]
    if max(stiff) > 0.0:
        found.append(BlendBest("stiffest", points[int(np.argmax(stiff))].shares))
    counts_work = _counts_work(agents)
    hard = [_hardness(point, counts_work=counts_work) for point in points]
    if max(hard) > 0.0:
        what = "most work to break" if counts_work else "hardest to break"
        found.append(BlendBest(what, points[int(np.argmax(hard))].shares))
    if not found:
        thick = [0.0 if p.thickness_mpa_s is None else p.thickness_mpa_s.value for p in points]
        # Without agents all of them are as thin as the base.
        if max(thick) > 1.01 * min(thick):
            found.append(BlendBest("thickest", points[int(np.argmax(thick))].shares))
    return tuple(found)


def _hardness(point: BlendPoint, *, counts_work: bool) -> float:
    if point.stress_kpa is None or point.strain is None:
        return 0.0
    return point.stress_kpa.value * (point.strain.value if counts_work else 1.0)


def _counts_work(agents: tuple[BlendAgent, ...]) -> bool:
    """True when the best ratio of the pair was published for the work it takes to break."""
    if len(agents) != 2:
        return False
    found = pair_row(agents[0].key, agents[1].key)
    if found is None or "best_share_break" not in found[0].figures:
        return False
    return "energy" in found[0].figure("best_share_break").conditions


def _dose_warnings(draft: BlendDraft) -> tuple[str, ...]:
    dose = draft.ask.dose_pct
    if dose <= 0.0:
        return ("At a dose of 0 % there is no agent in it: nothing sets or thickens.",)
    usual = [high for agent in draft.agents if (high := _usual_high(agent.key)) is not None]
    if not usual or dose <= _FAR_OUTSIDE * max(usual):
        return ()
    return (
        f"A total of {dose:g} % is far outside of any use: the highest usual dose of these agents "
        f"is {max(usual):g} %. Take the numbers as a guess.",
    )


def _usual_high(key: str) -> float | None:
    try:
        return agent_rows()[key].figure("dose").high
    except MissingDataError:
        return None
