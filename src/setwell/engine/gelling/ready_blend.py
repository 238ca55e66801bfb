"""Powders sold as a blend of two agents: each part by its own model, joined by the pair law."""

from collections.abc import Callable, Mapping
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import Kept
from setwell.engine.gelling.blends import blend
from setwell.engine.gelling.doubt import UNCORRECTED, LawDoubt
from setwell.engine.gelling.finish import finish
from setwell.engine.gelling.hydration import working
from setwell.engine.gelling.pair import JointGel, Kitchen, Mix
from setwell.engine.gelling.state import AgentInput, AgentState, Flow, Gel, Origins, SetsOn
from setwell.engine.spans import Spans, log_half_width
from setwell.provenance import evidence_join
from setwell.science.gels.blends import joint_shape
from setwell.tables.agents import agent_rows, blend_rows

Array = NDArray[np.float64]
Model = Callable[[AgentInput], AgentState]

_REFERENCE_C = 20.0


def ready_blend(agent: AgentInput, models: Mapping[str, Model]) -> AgentState:
    """Return what a sold blend does in n batches; `models` are those of its parts."""
    first, second = agent_rows()[agent.key].parts
    states, doubts = {}, {}
    for key, share in agent_rows()[agent.key].parts.items():
        part = replace(
            agent,
            key=key,
            dose_pct=agent.dose_pct * share,
            active_pct=agent.active_pct * share,
        )
        raw = models[key](part)
        doubts[key] = raw.doubt
        # The doubt of the laws is added once, to the blend.
        states[key] = finish(replace(raw, doubt=LawDoubt()), part, UNCORRECTED, is_part=True)
    mix = blend(states, _kitchen(agent))
    joint = mix.joints.get((first, second)) or mix.joints.get((second, first))
    if joint is None:
        return _helped(agent, mix, first, doubts[first])
    return _joint(agent, mix, joint, doubts[first])


def _kitchen(agent: AgentInput) -> Kitchen:
    count = len(agent.dose_pct)
    return Kitchen(
        coldest_c=np.broadcast_to(agent.process.coldest_c, (count,)),
        serving_c=np.full(count, _REFERENCE_C),
        potassium=agent.water.free.metals["potassium"].value,
        ph=agent.water.ph,
        milk_protein=agent.water.milk_protein_share,
    )


def _helped(agent: AgentInput, mix: Mix, gelling: str, doubt: LawDoubt) -> AgentState:
    """Return the blend of a gelling agent and its helper."""
    part, share = mix.agents[gelling], agent_rows()[agent.key].parts[gelling]
    critical = None if part.critical_pct is None else part.critical_pct.scaled(1.0 / share)
    # Only what has dissolved of the gelling part counts; told as so much of the whole powder.
    dose = part.effective_pct.scaled(1.0 / share)
    common = _common(agent, mix)
    weeps = part.weeps_pct and part.weeps_pct.scaled(mix.weeping.get(gelling, 1.0))
    return replace(
        common,
        working=replace(common.working, effective_pct=dose),
        critical_pct=critical,
        conditions=part.conditions,
        set_c=part.set_c,
        melt_c=part.melt_c,
        practice_set_c=part.practice_set_c,
        other_set=part.other_set,
        gel=mix.gels[gelling],
        weeps_pct=weeps,
        frozen=part.frozen,
        doubt=doubt,
        model=f"{part.model}; law of the pair",
    )


def _joint(agent: AgentInput, mix: Mix, joint: JointGel, doubt: LawDoubt) -> AgentState:
    """Return the blend of two thickeners that gel only together."""
    first, second = next(iter(mix.joints))
    row = blend_rows()[first, second]
    shape = joint_shape(mix.share(first, second), best_share=row.figure("best_share").value)
    total = row.figure("critical_total")
    sides = (total.value, total.low, total.high)
    critical = Spans(*(side / np.clip(shape, 1e-3, None) for side in sides))
    middle = Spans.exact(joint.gel.modulus.value)
    stiff, strain = row.figure("modulus_at_1pct"), row.figure("fracture_strain")
    set_c, melt_c = (row.figure(f"{name}_temperature") for name in ("setting", "melting"))
    return replace(
        _common(agent, mix),
        critical_pct=critical,
        set_c=Spans.exact(joint.set_c.value),
        melt_c=Spans.exact(joint.melt_c.value),
        gel=Gel(
            middle,
            Spans.exact(joint.gel.fracture_stress.value),
            Spans.exact(joint.gel.fracture_strain.value),
        ),
        weeps_pct=Spans.exact(np.zeros(mix.count)),
        frozen=np.ones(mix.count, dtype=np.int8),
        doubt=LawDoubt(
            strength=log_half_width(stiff.low, stiff.high),
            strain=log_half_width(strain.low, strain.high),
            setting=(set_c.high - set_c.low) / 2.0,
            melting=(melt_c.high - melt_c.low) / 2.0,
            flow=doubt.flow,
        ),
        model="joint gel of two thickeners, power law",
    )


def _common(agent: AgentInput, mix: Mix) -> AgentState:
    """Return what every blend has: hydration, dose, flow, look and origins."""
    parts = list(mix.agents.values())
    work = working(agent, _kept(parts))
    doses = [part.effective_pct for part in parts]
    effective = Spans(*(np.sum(side, axis=0) for side in zip(*doses, strict=True)))
    flows = list(mix.flows.values())
    added = [flow.added for flow in flows]
    hazes = [part.haze for part in parts if part.haze is not None]
    evidence = evidence_join([part.evidence for part in parts])
    noted = evidence_join([note.evidence for note in mix.notes])
    return AgentState(
        key=agent.key,
        working=replace(work, effective_pct=effective),
        sets_on=SetsOn.COOLING,
        flow=Flow(
            Spans(*(np.sum(side, axis=0) for side in zip(*added, strict=True))), flows[0].base
        )
        if flows
        else None,
        haze=Spans(
            *(
                1.0 - np.prod([1.0 - one for one in side], axis=0)
                for side in zip(*hazes, strict=True)
            )
        )
        if hazes
        else None,
        is_extrapolated=np.any([part.is_extrapolated for part in parts], axis=0),
        origins=Origins(
            hydration=work.evidence,
            gelling=noted,
            setting=evidence_join([part.origins.setting for part in parts]) or noted,
            melting=evidence_join([part.origins.melting for part in parts]) or noted,
            strength=evidence_join([evidence, noted]),
            fracture=noted,
            flow=evidence_join([part.origins.flow for part in parts]),
            look=evidence_join([part.origins.look for part in parts]),
        ),
        model="",
    )


def _kept(parts: list[AgentState]) -> Kept:
    """Return the strength left of the part that suffers most."""
    worst = min(parts, key=lambda part: float(part.kept.share.value.min()))
    return worst.kept
