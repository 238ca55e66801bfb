"""pH against what is added: a curve for an acid and one for a buffer, with the agents' windows."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.acid_additives import CITRATE_BUFFER, CITRIC_ACID, AcidAdditive, additives
from setwell.engine.acid_side import acid_side, systems_taken, water_at
from setwell.engine.acidity import Solution
from setwell.engine.catalog import Catalog
from setwell.engine.dose_search import Start, Weighed, ends_of, own_water
from setwell.engine.dosing import ph_now, start_check
from setwell.engine.origins import acidity_evidence
from setwell.errors import MissingDataError
from setwell.provenance import Citation, Estimate, Evidence, Grade, evidence_join
from setwell.science.solution.charge_balance import ph_charge_balance
from setwell.tables.agents import agent_rows

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

POINTS = 41
_CELSIUS = 25.0
# Lengths of the curve, g per kg of batch, so that every point is a round weight.
_LENGTHS = (1.0, 2.0, 4.0, 8.0, 12.0, 20.0, 40.0, 80.0, 200.0)
_USUAL_LENGTH = 8.0
# Far enough for an acid and for a buffer: most dishes lie between.
_ACID_END, _BUFFER_END = 3.5, 5.0
# Where casein has no net charge (dairy chemistry, recalled), and from how much on it counts.
CASEIN_PH = 4.6
_MILK_PROTEIN_LEAST = 0.005
_PRACTICE: Evidence = (Citation("common_practice", "common practice, no source", Grade.ESTIMATED),)


@dataclass(frozen=True, slots=True)
class TitrationCurve:
    """pH after each addition, with its range; `grams_per_kg` is per kg of batch before it.

    `beyond_from` is the addition from which there is more salt than the model is good for.
    """

    key: str
    name: str
    is_acid: bool
    grams_per_kg: tuple[float, ...]
    ph: tuple[float, ...]
    ph_low: tuple[float, ...]
    ph_high: tuple[float, ...]
    beyond_from: float | None


@dataclass(frozen=True, slots=True)
class PhWindow:
    """pH in which an agent sets or thickens well."""

    agent: str
    low: float
    high: float
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class PhPoint:
    """One pH worth knowing on the way."""

    label: str
    ph: float
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class Titration:
    """Curves of one batch that start at the same pH, and what lies on their way."""

    ph: Estimate
    batch_g: float
    curves: tuple[TitrationCurve, ...]
    windows: tuple[PhWindow, ...]
    points: tuple[PhPoint, ...]
    evidence: Evidence


def titrate(
    bench: Weighed,
    chosen: AcidAdditive | None = None,
    *,
    catalog: Catalog | None = None,
    row: int = 0,
) -> Titration:
    """Return the curves of one candidate, all points solved in one go.

    Without a chosen additive: one curve for citric acid and one for trisodium citrate. Raises
    InputError when there is no pH to start from.
    """
    start_check(bench, row)
    batch = float(bench.state.composition.finished_g[row])
    start = Start.of(bench.state, slice(row, row + 1))
    used = (chosen,) if chosen is not None else _usual(catalog)
    ends, per_water = ends_of(start), batch / float(start.water_g[0])
    grams = np.linspace(0.0, _length(ends, used, per_water), POINTS)
    found, is_beyond = _solved(ends, used, per_water * grams / 1000.0)
    curves = tuple(
        _curve(one, grams, found[number], is_beyond[number]) for number, one in enumerate(used)
    )
    return Titration(
        ph_now(bench, row), batch, curves, ph_windows(bench), casein_points(bench, row),
        evidence_join(
            [
                acidity_evidence(bench.plan, bench.state, row),
                *(acid_side(one.material).evidence for one in used),
            ]
        ),
    )  # fmt: skip


def _usual(catalog: Catalog | None) -> tuple[AcidAdditive, ...]:
    by_key = {one.key: one for one in additives(catalog)}
    return by_key[CITRIC_ACID], by_key[CITRATE_BUFFER]


def _curve(one: AcidAdditive, grams: Array, ph: Array, is_beyond: Mask) -> TitrationCurve:
    """Return one curve from arrays of shape (3, points): middle and both ends."""
    beyond = is_beyond.any(axis=0)
    return TitrationCurve(
        key=one.key,
        name=one.name,
        is_acid=one.is_acid,
        grams_per_kg=tuple(grams.tolist()),
        ph=tuple(ph[0].tolist()),
        ph_low=tuple(ph.min(axis=0).tolist()),
        ph_high=tuple(ph.max(axis=0).tolist()),
        beyond_from=float(grams[beyond.argmax()]) if beyond.any() else None,
    )


def _length(ends: Solution, used: tuple[AcidAdditive, ...], per_water: float) -> float:
    """Return the shortest length at which every curve has gone far enough to look at."""
    middle = Solution(ends.totals[:1], ends.strong[:1], ends.strong_strength[:1])
    tried = np.array(_LENGTHS)
    ph, _ = _solved(middle, used, per_water * tried / 1000.0)
    here = float(_solved(middle, used[:1], np.zeros(1))[0][0, 0, 0])
    needed = []
    for number, one in enumerate(used):
        curve = ph[number, 0]
        if one.is_acid and here > _ACID_END:
            reach = curve <= _ACID_END
        elif not one.is_acid and here < _BUFFER_END:
            reach = curve >= _BUFFER_END
        else:
            continue
        needed.append(float(tried[reach.argmax()]) if reach.any() else _LENGTHS[-1])
    return max(needed, default=_USUAL_LENGTH)


def _solved(ends: Solution, used: tuple[AcidAdditive, ...], added: Array) -> tuple[Array, Mask]:
    """Return pH and doubt of shape (additives, rows, points) for kg added per kg of water."""
    totals, strong, strength = [], [], []
    for one in used:
        side = acid_side(one.material)
        share = 1.0 / (1.0 + added * own_water(one.material))
        extra = added * side.strong
        totals.append((ends.totals[:, None, :] + added[:, None] * side.totals) * share[:, None])
        strong.append((ends.strong[:, None] + extra) * share)
        strength.append((ends.strong_strength[:, None] + 0.5 * np.abs(extra)) * share)
    flat = np.concatenate([part.reshape(-1, part.shape[-1]) for part in totals])
    columns = np.flatnonzero((flat > 0).any(axis=0))
    found = ph_charge_balance(
        flat[:, columns],
        np.concatenate([part.ravel() for part in strong]),
        acids=systems_taken(_CELSIUS, columns),
        water=water_at(_CELSIUS),
        strong_ionic_strength=np.concatenate([part.ravel() for part in strength]),
    )
    shape = (len(used), len(ends.strong), len(added))
    return found.ph.reshape(shape), found.is_beyond_model.reshape(shape)


def ph_windows(bench: Weighed) -> tuple[PhWindow, ...]:
    """Return the pH window of each agent of a formula that has one."""
    found = (ph_window(key) for key in bench.agents)
    return tuple(
        PhWindow(bench.name(key), *window)
        for key, window in zip(bench.agents, found, strict=True)
        if window is not None
    )


def ph_window(agent: str) -> tuple[float, float, Evidence] | None:
    """Return low, high and origin of an agent's pH window; None where none is known.

    The pH below which it does not gel counts before the one it thickens at.
    """
    row = agent_rows()[agent]
    try:
        window = row.figure("ph_window")
    except MissingDataError:
        return None
    if window.low is None or window.high is None:
        return None
    gelling = row.properties.get("ph_gelling_low")
    low = gelling[0].value if gelling else window.low
    citations = (window.citation, *((gelling[0].citation,) if gelling else ()))
    return low, window.high, citations


def casein_points(bench: Weighed, row: int = 0) -> tuple[PhPoint, ...]:
    """Return where casein curdles; nothing where there is no milk worth speaking of."""
    if float(bench.state.water.milk_protein_share[row]) < _MILK_PROTEIN_LEAST:
        return ()
    return (PhPoint("casein curdles", CASEIN_PH, _PRACTICE),)
