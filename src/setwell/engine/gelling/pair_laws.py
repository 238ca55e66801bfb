"""The laws of known pairs. Each takes the mix, changes its gels and leaves a note."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.finish import cold_enough, enough, served, standing
from setwell.engine.gelling.pair import JointGel, Mix, Note
from setwell.engine.gelling.state import Flow, Gel
from setwell.engine.spans import Spans
from setwell.provenance import Evidence
from setwell.science.gels.blends import (
    helped_gain,
    joint_shape,
    modulus_bounds_takayanagi,
    plateau_share,
)
from setwell.science.gels.fracture import fracture_stress
from setwell.science.gels.strength import modulus_power_law
from setwell.tables.agents import BlendFigure, BlendRow, agent_rows

Array = NDArray[np.float64]

# Potassium where the plateau of kappa with iota was seen, and where it fades [mmol/kg].
_PLATEAU_POTASSIUM = (40.0, 75.0, 150.0, 250.0)
# A gel full of spots of another may lose half of its strength (our judgment).
_WEAKENED = 0.5
# Width of the dip in the strain at break, as a share of iota (our judgment).
_DIP_WIDTH = 0.06


def helped(mix: Mix, row: BlendRow, gelling: str, partner: str) -> None:
    """A partner that does not gel alone makes the gel stronger and bend further."""
    state = mix.agents[gelling]
    if state.gel_at is None or state.sets_at is None:
        return
    small, large = row.figure("best_share_small"), row.figure("best_share_break")
    share = mix.share(gelling, partner)
    # The pair works like so much of the gelling agent alone, more so for the break.
    stiff = _as_much_as(mix, (gelling, partner), small, row.figure("power_small").value)
    hard = _as_much_as(mix, (gelling, partner), large, row.figure("power_break").value)
    mix.sets[gelling] = state.sets_at(stiff)
    at_break = state.gel_at(hard)
    strain = _log_mix(at_break.fracture_strain, row.figure("partner_strain"), share)
    stress = at_break.fracture_stress
    if "energy" in large.conditions:
        # The published best ratio is that of the energy: stress times strain.
        stress = stress.scaled(at_break.fracture_strain.value / strain.value)
    gel = Gel(state.gel_at(stiff).modulus, stress, strain)
    mix.gels[gelling] = standing(gel, mix.sets[gelling])
    factor = row.figure("weeping_factor").value
    full = row.figure("best_share_break").value
    reach = np.clip((1.0 - share) / (1.0 - full), 0.0, 1.0)
    mix.weeping[gelling] = mix.weeping.get(gelling, 1.0) * (1.0 - (1.0 - factor) * reach)
    first, second = agent_rows()[gelling].short_name, agent_rows()[partner].short_name
    what = "takes most work to break" if "energy" in large.conditions else "hardest to break"
    mix.notes.append(
        Note(
            (gelling, partner),
            lambda at: (
                f"{first} with {second}: stiffest near {_ratio(small.value)}, {what} near "
                f"{_ratio(large.value)}; here {_ratio(float(share[at]))} ({first} to {second})."
            ),
            (small.citation, large.citation),
        )
    )


def joint(mix: Mix, row: BlendRow, first: str, second: str) -> None:
    """Two thickeners that gel only together, such as xanthan and locust bean gum."""
    best = row.figure("best_share")
    share = mix.share(first, second)
    shape = joint_shape(share, best_share=best.value)
    useful = Spans(
        *(
            (a + b) * shape
            for a, b in zip(
                mix.agents[first].effective_pct, mix.agents[second].effective_pct, strict=True
            )
        )
    )
    critical = _constant(row.figure("critical_total"), mix.count)
    set_c = _constant(row.figure("setting_temperature"), mix.count)
    melt_c = _constant(row.figure("melting_temperature"), mix.count)
    sets = np.minimum(enough(useful, critical), cold_enough(mix.kitchen.coldest_c, set_c))
    gel = served(_joint_gel(row, useful, critical), melt_c, 20.0, mix.kitchen.serving_c)
    mix.joints[first, second] = JointGel(standing(gel, sets), sets, set_c, melt_c)
    _thickened(mix, row, first, second)
    one, two = agent_rows()[first].short_name, agent_rows()[second].short_name
    mix.notes.append(
        Note(
            (first, second),
            lambda at: (
                f"{one} with {two}: neither gels alone, together an elastic gel, best near "
                f"{_ratio(best.value)}; here {_ratio(float(share[at]))} ({one} to {two})."
            ),
            (best.citation, row.figure("modulus_at_1pct").citation),
        )
    )


def _joint_gel(row: BlendRow, useful: Spans, critical: Spans) -> Gel:
    at_1pct, exponent = row.figure("modulus_at_1pct"), row.figure("modulus_exponent").value
    above = [np.clip(1.0 - critical.value / np.maximum(part, 1e-9), 0.0, 1.0) for part in useful]
    stiff = [
        modulus_power_law(
            part / 100.0, modulus_at_reference=bound * 1000.0, reference_dose=0.01,
            exponent=exponent,
        )
        * full
        for part, full, bound in zip(
            useful, above, (at_1pct.value, at_1pct.low, at_1pct.high), strict=True
        )
    ]  # fmt: skip
    strain = _constant(row.figure("fracture_strain"), len(useful.value))
    stress = Spans(
        *(fracture_stress(m, e, stiffening=1.0) for m, e in zip(stiff, strain, strict=True))
    )
    return Gel(Spans(*stiff), stress, strain)


def thicker(mix: Mix, row: BlendRow, first: str, second: str) -> None:
    """Two thickeners that are thicker together than their sum, such as xanthan and guar."""
    best = row.figure("best_share")
    share = mix.share(first, second)
    _thickened(mix, row, first, second)
    one, two = agent_rows()[first].short_name, agent_rows()[second].short_name
    mix.notes.append(
        Note(
            (first, second),
            lambda at: (
                f"{one} with {two}: thicker than either alone, most near {_ratio(best.value)}; "
                f"here {_ratio(float(share[at]))} ({one} to {two})."
            ),
            (best.citation, row.figure("power_flow").citation),
        )
    )


def _thickened(mix: Mix, row: BlendRow, first: str, second: str) -> None:
    """The pair thickens like so much of the first alone; the second still adds its own."""
    flow_at = mix.agents[first].flow_at
    if flow_at is None:
        return
    like = _as_much_as(
        mix, (first, second), row.figure("best_share"), row.figure("power_flow").value
    )
    own = mix.flows[first]
    # A trace of the second takes nothing away.
    added = Spans(*(np.maximum(a, b) for a, b in zip(flow_at(like).added, own.added, strict=True)))
    mix.flows[first] = Flow(added, own.base, own.rates)


def kappa_iota(mix: Mix, row: BlendRow, kappa: str, iota: str) -> None:
    """Two networks side by side: brittle to soft by the ratio, with a plateau in potassium."""
    a, b = mix.gels.get(kappa), mix.gels.get(iota)
    if a is None or b is None:
        return
    flat, dip = row.figure("plateau_share"), row.figure("strain_dip")
    share = np.clip(1.0 - mix.share(kappa, iota), 1e-3, 1.0 - 1e-3)
    rich = np.interp(mix.kitchen.potassium, _PLATEAU_POTASSIUM, (0.0, 1.0, 1.0, 0.0))
    even = plateau_share(share, start=flat.low, end=flat.high)
    counts = rich * even + (1.0 - rich) * share
    more_iota = (counts / share) ** 2
    depth = rich * np.exp(-(((share - flat.value) / _DIP_WIDTH) ** 2))
    strain = Spans(
        *(
            np.exp((1.0 - share) * np.log(k) + share * np.log(i) - depth * d)
            for k, i, d in zip(
                a.fracture_strain, b.fracture_strain, (dip.value, dip.high, dip.low), strict=True
            )
        )
    )
    mix.gels[kappa] = _kappa_beside(mix, kappa, (1.0 - counts) / (1.0 - share), strain)
    mix.gels[iota] = Gel(b.modulus.scaled(more_iota), b.fracture_stress.scaled(more_iota), strain)
    bound = row.figure("weeping_factor").value
    mix.weeping[kappa] = mix.weeping.get(kappa, 1.0) * (1.0 - (1.0 - bound) * np.sqrt(share))
    mix.notes.append(
        Note(
            (kappa, iota),
            lambda at: (
                "kappa with iota: two networks that set one after the other; more kappa is "
                f"firmer and shorter, more iota softer and bends further; here "
                f"{_ratio(1.0 - float(share[at]))} (kappa to iota)."
            ),
            (flat.citation,),
        )
    )


def _kappa_beside(mix: Mix, kappa: str, factor: Array, strain: Spans) -> Gel:
    """Return the kappa network with the dose that counts beside iota."""
    state = mix.agents[kappa]
    gel = mix.gels[kappa]
    if state.gel_at is not None:
        gel = standing(state.gel_at(state.effective_pct.scaled(factor)), mix.sets[kappa])
    return Gel(gel.modulus, gel.fracture_stress, strain)


def by_dose(mix: Mix, first: str, second: str) -> None:
    """Two gels that share one network: strain at break goes by the dose of each."""
    a, b = mix.gels.get(first), mix.gels.get(second)
    if a is None or b is None:
        return
    share = mix.share(first, second)
    strain = Spans(
        *(
            np.exp(share * np.log(x) + (1.0 - share) * np.log(y))
            for x, y in zip(a.fracture_strain, b.fracture_strain, strict=True)
        )
    )
    mix.gels[first] = Gel(a.modulus, a.fracture_stress, strain)
    mix.gels[second] = Gel(b.modulus, b.fracture_stress, strain)
    one, two = agent_rows()[first].short_name, agent_rows()[second].short_name
    mix.notes.append(
        Note(
            (first, second),
            lambda at: (
                f"{one} with {two}: from brittle to elastic by the ratio, here "
                f"{_ratio(float(share[at]))}; stiffness is added (our judgment)."
            ),
            (),
        )
    )


def apart(mix: Mix, first: str, second: str, evidence: Evidence) -> None:
    """Two gels that part into phases: between series and parallel, each in its own space."""
    a, b = mix.gels.get(first), mix.gels.get(second)
    if a is None or b is None:
        return
    volume = np.clip(mix.share(first, second), 0.02, 0.98)
    scales = []
    for part in range(3):
        one, two = a.modulus[part], b.modulus[part]
        stronger = np.maximum(one, two)
        # Each gel is crowded into its own space; in parallel both bear the load there.
        _, parallel = modulus_bounds_takayanagi(one / volume**2, two / (1 - volume) ** 2, volume)
        middle = np.sqrt(stronger * np.maximum(parallel, stronger))
        joined = (middle, _WEAKENED * stronger, parallel)[part]
        total = one + two
        both = (one > 0) & (two > 0)
        scales.append(np.divide(joined, total, out=np.ones_like(total), where=both))
    by = Spans(*scales)
    for key, gel in ((first, a), (second, b)):
        mix.gels[key] = Gel(
            _ordered(_times(gel.modulus, by)), _ordered(_times(gel.fracture_stress, by)),
            gel.fracture_strain,
        )  # fmt: skip
    names = " and ".join(agent_rows()[key].short_name for key in (first, second))
    mix.notes.append(
        Note(
            (first, second),
            lambda _: (
                f"{names} part into two phases, each firmer in its own space and weak where they "
                "meet: a wide range, try a cup."
            ),
            evidence,
        )
    )


def _as_much_as(mix: Mix, pair: tuple[str, str], best: BlendFigure, power: float) -> Spans:
    """Return the dose of the gelling agent alone that does what the pair does, in percent."""
    share = mix.share(*pair)
    value, one, two = (
        np.sqrt(share**power * helped_gain(share, best_share=at, power=power))
        for at in (best.value, best.low, best.high)
    )
    factor = Spans(value, np.minimum(one, two), np.maximum(one, two))
    doses = (mix.agents[key].effective_pct for key in pair)
    total = Spans(*(a + b for a, b in zip(*doses, strict=True)))
    return _times(total, factor)


def _log_mix(own: Spans, partner: BlendFigure, share: Array) -> Spans:
    return Spans(
        *(
            np.exp(share * np.log(mine) + (1.0 - share) * np.log(other))
            for mine, other in zip(own, (partner.value, partner.low, partner.high), strict=True)
        )
    )


def _times(spans: Spans, factor: Spans) -> Spans:
    return Spans(*(a * b for a, b in zip(spans, factor, strict=True)))


def _ordered(spans: Spans) -> Spans:
    return Spans(
        spans.value, np.minimum(spans.low, spans.value), np.maximum(spans.high, spans.value)
    )


def _constant(figure: BlendFigure, count: int) -> Spans:
    return Spans(*(np.full(count, side) for side in (figure.value, figure.low, figure.high)))


def _ratio(share: float) -> str:
    percent = round(100.0 * share)
    return f"{percent}:{100 - percent}"
