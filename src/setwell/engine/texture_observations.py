"""From a reading to how far it is off: the same quantity, computed without corrections."""

import math
from collections.abc import Mapping
from dataclasses import dataclass, replace

import numpy as np

from setwell.domain.texture_reading import LotCheck, Outcome, TextureKind, TextureReading
from setwell.engine.bases import base_of
from setwell.engine.batch_marks import recipe_of
from setwell.engine.gelling.parameters import parameter
from setwell.engine.gelling.state import NO, YES, AgentState, Gel, SetsOn
from setwell.engine.rules.bench import Bench
from setwell.engine.texture_unknowns import PENETRATION_FACTOR, Observation, Part, Quantity
from setwell.engine.word_places import WordRegion, word_told
from setwell.errors import MissingDataError
from setwell.science.gels.strength import modulus_from_flat_punch
from setwell.science.inference.agreement import chi_squared_limit
from setwell.science.inference.plunger import load_stress

# What the same recipe varies by when it is made again: weighing, steam, pouring (our judgment).
_BATCH_LOG, _BATCH_K = math.log(1.05), 0.5
# A share of the modulus below this tells nothing of that agent.
_SHARE_LEAST = 0.02


@dataclass(frozen=True, slots=True)
class Measured:
    """A reading of a version or of a lot, in the form both have in common."""

    kind: TextureKind
    value: float | None
    doubt: float
    plunger_mm: float
    depth_mm: float | None = None
    shear_rate_per_s: float | None = None
    outcome: Outcome | None = None
    word: str = ""
    # Several cups of one test, each with a value of its own.
    cups: tuple[float, ...] = ()

    @property
    def repeats(self) -> int:
        """How many cups the value is the mean of."""
        return max(len(self.cups), 1)

    @property
    def scatters(self) -> bool:
        """True when the cups differ by more than chance would once in a hundred times."""
        if len(self.cups) < 2:
            return False
        logs = np.log(self.cups)
        squares = float(np.sum((logs - logs.mean()) ** 2)) / (self.log_doubt / 2.0) ** 2
        return squares > float(chi_squared_limit(len(self.cups) - 1))

    @property
    def log_doubt(self) -> float:
        """What one reading repeats to, on the natural log axis."""
        return math.log1p(self.doubt / 100.0)


@dataclass(frozen=True, slots=True)
class Compared:
    """A reading beside the model: observations to count, or a remark why there are none.

    `computed` is in the unit of the reading; `contradicts` is True where an outcome was seen
    that the model had ruled out.
    """

    observations: tuple[Observation, ...]
    computed: float | None = None
    remark: str = ""
    contradicts: bool = False


def measured_of(reading: TextureReading) -> Measured:
    """Return a reading of a version in the common form."""
    return Measured(
        kind=reading.kind,
        value=reading.value,
        doubt=reading.doubt,
        plunger_mm=reading.plunger_mm,
        depth_mm=reading.depth_mm,
        shear_rate_per_s=reading.shear_rate_per_s,
        outcome=reading.outcome,
        word=reading.word,
    )


def measured_of_check(check: LotCheck) -> Measured:
    """Return a check of a lot in the common form; without a value it is an outcome."""
    kind = check.kind.measures
    return Measured(
        kind=kind if check.values else TextureKind.OUTCOME,
        value=check.value,
        doubt=check.doubt,
        plunger_mm=check.plunger,
        depth_mm=check.depth,
        shear_rate_per_s=check.shear_rate_per_s,
        outcome=check.outcome,
        cups=check.values if len(check.values) > 1 else (),
    )


def compare_reading(
    measured: Measured,
    bench: Bench,
    *,
    key: str,
    lots: Mapping[str, str],
    region: WordRegion | None = None,
) -> Compared:
    """Return a reading against the batch it was taken of, computed without corrections."""
    if measured.scatters:
        return _cup_by_cup(measured, bench, key=key, lots=lots)
    kind = measured.kind
    if kind is TextureKind.OUTCOME:
        return _outcome(measured, bench)
    if kind.is_temperature or kind is TextureKind.VISCOSITY:
        compare = _temperature if kind.is_temperature else _viscosity
        return compare(measured, bench, key, lots)
    gel = bench.state.texture.gel
    if gel is None or not float(gel.modulus.value[0]) > 0:
        return Compared(
            (),
            remark="The model sees no gel here, so there is no number to compare with.",
            contradicts=bool(bench.state.texture.sets[0] == NO),
        )
    if kind is TextureKind.WORD:
        return _word(region, gel, bench, key, lots)
    return _load(measured, gel, bench, key, lots)


def _cup_by_cup(measured: Measured, bench: Bench, *, key: str, lots: Mapping[str, str]) -> Compared:
    """Return cups that contradict each other one by one, so that none is averaged away."""
    whole = compare_reading(replace(measured, cups=()), bench, key=key, lots=lots)
    cups = (
        compare_reading(replace(measured, value=value, cups=()), bench, key=key, lots=lots)
        for value in measured.cups
    )
    observations = tuple(
        replace(one, face=f"cup {number}")
        for number, cup in enumerate(cups, start=1)
        for one in cup.observations
    )
    return replace(whole, observations=observations)


def _load(
    measured: Measured, gel: Gel, bench: Bench, key: str, lots: Mapping[str, str]
) -> Compared:
    grams, radius = measured.value or 0.0, measured.plunger_mm / 2000.0
    if measured.kind is TextureKind.FIRMNESS_PRESS:
        depth = (measured.depth_mm or 0.0) / 1000.0
        found = float(modulus_from_flat_punch(grams / 1000.0, radius=radius, depth=depth))
        computed, method = float(gel.modulus.value[0]), "press"
        parts = _gel_parts(bench, lots, Quantity.STRENGTH)
    else:
        found = float(load_stress(grams / 1000.0, radius=radius))
        computed = penetration_factor(bench) * float(gel.fracture_stress.value[0])
        method = "penetration"
        # Stress at break goes with the stiffness and with how far the gel bends.
        parts = _gel_parts(bench, lots, Quantity.STRENGTH, Quantity.STRAIN)
    one = Observation(
        key, parts, math.log(found / computed), _log_variance(measured, 1.0), method=method
    )
    return _counted(one, grams * computed / found)


def penetration_factor(bench: Bench) -> float:
    """Return load per area of a plunger over stress at break, for the firmest agent."""
    shares = {key: float(share[0]) for key, share in bench.state.texture.shares.items()}
    firmest = max(shares, key=lambda key: shares[key])
    try:
        return parameter(firmest, "penetration_factor").value
    except MissingDataError:
        return PENETRATION_FACTOR


def _word(
    region: WordRegion | None, gel: Gel, bench: Bench, key: str, lots: Mapping[str, str]
) -> Compared:
    if region is None:
        return Compared((), remark="This word has no place on the texture map, so it is kept only.")
    sides = (
        ("stress", region.stress_pa, gel.fracture_stress, (Quantity.STRENGTH, Quantity.STRAIN)),
        ("strain", region.strain, gel.fracture_strain, (Quantity.STRAIN,)),
    )
    found = []
    for face, edges, computed, quantities in sides:
        told = word_told(edges, float(computed.value[0]))
        parts = _gel_parts(bench, lots, *quantities)
        if told is not None and parts:
            variance = (told.half_width / 2.0) ** 2
            found.append(Observation(key, parts, told.value, variance, face=face))
    return Compared(tuple(found))


def _temperature(measured: Measured, bench: Bench, key: str, lots: Mapping[str, str]) -> Compared:
    melts = measured.kind is TextureKind.MELTING_TEMPERATURE
    agent = _first_to_set(bench.state.agents, melts=melts)
    if agent is None:
        return Compared((), remark="The model knows no such temperature for these agents.")
    state = bench.state.agents[agent]
    spans = state.melt_c if melts else state.set_c
    computed = float(spans.value[0]) if spans is not None else math.nan
    if not math.isfinite(computed):
        return Compared((), remark="The model knows no such temperature for this batch.")
    quantity = Quantity.MELTING if melts else Quantity.SETTING
    part = _part(bench, lots, quantity, agent, 1.0)
    variance = (measured.doubt / 2.0) ** 2 / measured.repeats + (_BATCH_K / 2.0) ** 2
    one = Observation(key, (part,), (measured.value or 0.0) - computed, variance)
    return _counted(one, computed)


def _first_to_set(agents: Mapping[str, AgentState], *, melts: bool) -> str | None:
    """Return the agent that a probe sees: the one that sets, or melts, at the highest."""
    known = {
        key: state.melt_c if melts else state.set_c
        for key, state in agents.items()
        if state.sets_on is not SetsOn.NOTHING
    }
    warmest = {
        key: float(spans.value[0])
        for key, spans in known.items()
        if spans is not None and np.isfinite(spans.value[0])
    }
    gelling = {key: at for key, at in warmest.items() if agents[key].sets[0] != NO} or warmest
    return max(gelling, key=lambda key: gelling[key], default=None)


def _viscosity(measured: Measured, bench: Bench, key: str, lots: Mapping[str, str]) -> Compared:
    flow, rate = bench.state.texture.flow, measured.shear_rate_per_s or 1.0
    if flow is None:
        return Compared((), remark="The model knows no thickness for these agents.")
    # The law is about what the agents add; the liquid itself is thick without them.
    base, seen = float(flow.base[0]), (measured.value or 0.0) / 1000.0
    computed = float(flow.at(rate).value[0])
    added, found = computed - base, seen - base
    if added <= 0 or found <= 0:
        return Compared(
            (), computed * 1000.0,
            remark="That is no thicker than the liquid without its agents, so no factor follows.",
            contradicts=True,
        )  # fmt: skip
    shares = {k: float(share[0]) for k, share in bench.state.texture.flow_shares.items()}
    parts = _parts(bench, lots, Quantity.FLOW, shares)
    variance = _log_variance(measured, seen / found)
    one = Observation(key, parts, math.log(found / added), variance, method="viscosity")
    return _counted(one, computed * 1000.0)


def _outcome(measured: Measured, bench: Bench) -> Compared:
    """Return whether an outcome is one that the model had ruled out; it moves no number."""
    sets = bench.state.texture.sets[0]
    seen_gel = measured.outcome is Outcome.SET
    no_gel = measured.outcome in {Outcome.DID_NOT_SET, Outcome.SPREAD, Outcome.STAYED_THIN}
    contradicts = bool((seen_gel and sets == NO) or (no_gel and sets == YES))
    remark = (
        "The model had ruled this out: look for a step that went differently, then measure."
        if contradicts
        else "This fits the model; without a number it moves none."
    )
    return Compared((), remark=remark, contradicts=contradicts)


def _counted(one: Observation, computed: float) -> Compared:
    if not one.parts or not math.isfinite(one.value):
        return Compared((), computed, remark="No agent of the model has a part in this reading.")
    return Compared((one,), computed)


def _log_variance(measured: Measured, stretch: float) -> float:
    """Return the variance of the logarithm of a reading; repeats count, the batch does not."""
    reading = measured.log_doubt * stretch / 2.0
    return reading**2 / measured.repeats + (_BATCH_LOG / 2.0) ** 2


def _gel_parts(bench: Bench, lots: Mapping[str, str], *quantities: Quantity) -> tuple[Part, ...]:
    shares = {key: float(share[0]) for key, share in bench.state.texture.shares.items()}
    return tuple(part for quantity in quantities for part in _parts(bench, lots, quantity, shares))


def _parts(
    bench: Bench, lots: Mapping[str, str], quantity: Quantity, shares: Mapping[str, float]
) -> tuple[Part, ...]:
    return tuple(
        _part(bench, lots, quantity, agent, share)
        for agent, share in shares.items()
        if share > _SHARE_LEAST
    )


def _part(
    bench: Bench, lots: Mapping[str, str], quantity: Quantity, agent: str, weight: float
) -> Part:
    return Part(
        quantity,
        agent,
        lots.get(agent, ""),
        base_of(bench.state),
        weight,
        float(getattr(bench.state.agents[agent].doubt.at(0), quantity)),
        recipe_of(bench.formula),
    )
