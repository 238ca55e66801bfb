"""From numbers to the words of the trade, and one sentence for the whole."""

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.finish import LEAST_WATER
from setwell.engine.gelling.state import STIRRING_RATE, SetsOn
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.texture_results import Texture
from setwell.engine.texture_summary import (
    clarity_word,
    flow_points,
    flow_word,
    freezing_words,
    gel_evidence,
    map_point,
    melting_words,
    regions_reached,
    temperature,
    texture_notes,
    weeping_days,
)
from setwell.engine.verdict import Verdict, verdict
from setwell.provenance import Estimate, Evidence
from setwell.tables.agents import agent_rows
from setwell.tables.rules import WordBand, firmness_bands
from setwell.units import fahrenheit_from_celsius

Array = NDArray[np.float64]

_THICKENS = "Thickens and does not set"
# Syrups were measured up to here, and no farther [°Bx].
_MOST_BRIX = 65.0


def is_dry(bench: Bench, row: int) -> bool:
    """True where there is too little water for any agent to dissolve in."""
    return float(bench.state.composition.share("water_g")[row]) < LEAST_WATER


def kilopascals(
    modulus: Spans, row: int, *, model: str, evidence: Evidence, flags: tuple[str, ...] = ()
) -> Estimate:
    """Return a modulus in Pa as an estimate in kPa."""
    return modulus.scaled(0.001).estimate(
        unit="kPa", model=model, evidence=evidence, flags=flags, row=row
    )


def firmness_words(modulus: Estimate | None) -> str:
    """Return the firmness band of a modulus, and the bands its range reaches."""
    if modulus is None or modulus.high is None or modulus.low is None or modulus.high <= 0:
        return ""
    middle, low, high = (_band(value) for value in (modulus.value, modulus.low, modulus.high))
    others = [band.name for band in (low, high) if band is not middle]
    if len(others) == 2:
        return f"{middle.name} (from {low.name} to {high.name})"
    return f"{middle.name}, perhaps {others[0]}" if others else middle.name


def _band(kilopascal: float) -> WordBand:
    bands = firmness_bands()
    return next((band for band in bands if band.contains(max(kilopascal, bands[0].low))), bands[-1])


def texture_words(bench: Bench, row: int = 0) -> Texture:
    """Return the texture of one candidate in words and numbers."""
    state = bench.state.texture
    sets = verdict(state.sets[row]) if bench.agents else Verdict.NO
    gel = state.gel if state.gel is not None and float(state.gel.modulus.high[row]) > 0 else None
    modulus = stress = strain = point = thickness = haze = weeps = None
    if gel is not None:
        origin = gel_evidence(bench)
        modulus = kilopascals(gel.modulus, row, model="stiffness of the gels", evidence=origin)
        stress = kilopascals(
            gel.fracture_stress, row, model="stress at break of the gels", evidence=origin
        )
        strain = gel.fracture_strain.estimate(
            unit="", model="Hencky strain at break", evidence=origin, row=row
        )
        point = map_point(gel, row)
    # In hardly any water nothing flows as a solution does.
    flow = None if is_dry(bench, row) else state.flow
    if flow is not None:
        thickness = flow.at(STIRRING_RATE).scaled(1000.0).estimate(
            unit="mPa·s", model="apparent viscosity at 50 1/s",
            evidence=_flow_evidence(bench), row=row, flags=_flow_flags(bench, row),
        )  # fmt: skip
    if state.haze is not None:
        haze = state.haze.estimate(
            unit="",
            model="share of light that does not pass, own scale",
            evidence=PRACTICE,
            row=row,
        )
    if state.weeps_pct is not None and sets is not Verdict.NO:
        weeps = state.weeps_pct.estimate(
            unit="%", model="water given off in a week in the fridge",
            evidence=_look_evidence(bench), row=row,
        )  # fmt: skip
    region, regions = regions_reached(stress, strain)
    firmness = firmness_words(modulus)
    word = flow_word(thickness)
    words = _words(bench, row, sets, regions, word)
    return Texture(
        sentence=_sentence(bench, row, sets, firmness, words),
        sets=sets,
        modulus_kpa=modulus,
        firmness=firmness,
        words=words,
        serving_c=float(bench.state.serving_c[row]),
        fracture_stress_kpa=stress,
        fracture_strain=strain,
        map_point=point,
        region=region,
        regions=regions,
        first_set_c=temperature(state.first_set_c, row, "first agent sets", bench),
        second_set_c=temperature(state.second_set_c, row, "second agent sets", bench),
        melt_c=temperature(state.melt_c, row, "last agent melts", bench),
        half_set_c=temperature(state.half_set_c, row, "half of the stiffness has set", bench),
        stands_c=temperature(state.stands_c, row, "half of the stiffness still stands", bench),
        melts=melting_words(state.melt_c, sets, row),
        melts_in_mouth=(
            None
            if state.melts_in_mouth is None or sets is Verdict.NO
            else verdict(state.melts_in_mouth[row])
        ),
        viscosity_mpa_s=thickness,
        flow=flow_points(flow, row),
        flow_word=word,
        clarity=clarity_word(haze),
        haze=haze,
        weeps_pct=weeps,
        weeping=weeping_days(weeps),
        freezing=freezing_words(state.frozen, sets, row),
        notes=texture_notes(bench, row),
    )


def _flow_flags(bench: Bench, row: int) -> tuple[str, ...]:
    """Return the mark of a syrup thicker than those the equation was drawn for."""
    outside = any(
        agent.flow is not None and agent.is_extrapolated[row]
        for agent in bench.state.agents.values()
    )
    beyond = float(bench.state.water.brix.value[row]) > _MOST_BRIX
    return ("outside the range of the model",) if outside or beyond else ()


def _flow_evidence(bench: Bench) -> Evidence:
    found = (c for agent in bench.state.agents.values() for c in agent.origins.flow)
    return tuple(dict.fromkeys(found)) or PRACTICE


def _look_evidence(bench: Bench) -> Evidence:
    found = (c for agent in bench.state.agents.values() for c in agent.origins.look)
    return tuple(dict.fromkeys(found)) or PRACTICE


def _words(
    bench: Bench, row: int, sets: Verdict, regions: tuple[str, ...], flow: str
) -> tuple[str, ...]:
    """Return the trade words: of the break of a gel, of the flow of a liquid."""
    if sets is Verdict.NO:
        return (flow,) if flow else ()
    words = [regions[0]] if regions else []
    if len(regions) > 1:
        words.append(f"perhaps {' or '.join(regions[1:])}")
    mouth = bench.state.texture.melts_in_mouth
    if mouth is not None and verdict(mouth[row]) is Verdict.YES:
        words.append("melts in the mouth")
    return tuple(words)


def _sentence(bench: Bench, row: int, sets: Verdict, firmness: str, words: tuple[str, ...]) -> str:
    if not bench.agents:
        return "No texture agent: nothing here is known to set or thicken."
    if is_dry(bench, row):
        return "Hardly any water: nothing here can dissolve, set or thicken."
    if sets is Verdict.YES:
        if not firmness:
            return f"Sets {_set_at(bench, row)}, and has melted at serving temperature."
        return f"Sets {_set_at(bench, row)}: {firmness}; {_join(words)}."
    if sets is Verdict.CANNOT_TELL:
        return _open_sentence(firmness, words)
    return _liquid_sentence(bench, row, words)


def _open_sentence(firmness: str, words: tuple[str, ...]) -> str:
    return f"May or may not set; if it does, {firmness or 'firmness open'}; {_join(words)}."


def _liquid_sentence(bench: Bench, row: int, words: tuple[str, ...]) -> str:
    state = bench.state.texture
    if state.flow is not None:
        thick = state.flow.at(STIRRING_RATE).scaled(1000.0)
        how = _how_it_stays_liquid(bench, row)
        return (
            f"{how}: about {_rough(thick.value[row])} mPa·s "
            f"({_rough(thick.low[row])} to {_rough(thick.high[row])}) when stirred, "
            f"{_join(words)}."
        )
    if any(agent.modulus is None for agent in bench.state.agents.values()):
        return "Thickens and does not set; how thick is not computed for this agent yet."
    if _suspends(bench, row):
        return "Does not set: a dose that only keeps things suspended."
    return "Does not set as written."


def _how_it_stays_liquid(bench: Bench, row: int) -> str:
    """Return why a liquid is one: a thickener, a hot gel served cold, or a gel that fails."""
    served = float(bench.state.serving_c[row])
    hot = [agent for agent in bench.state.agents.values() if agent.sets_on is SetsOn.HEATING]
    if any(agent.melt_c is not None and served < agent.melt_c.high[row] for agent in hot):
        return "Gels only while hot; as served it is a liquid"
    return "Does not gel as written" if hot else _THICKENS


def _rough(value: float, digits: int = 2) -> str:
    """Return a number with few digits and never with an exponent."""
    return f"{float(f'{value:.{digits}g}'):,.10g}"


def _suspends(bench: Bench, row: int) -> bool:
    """True when every dose is one the chart lists for suspending."""
    return all(
        any(
            "suspen" in use.conditions and use.high is not None and dose[row] <= use.high * 1.001
            for use in agent_rows()[key].properties.get("dose_typical", ())
        )
        for key, dose in bench.state.doses_pct.items()
    )


def _set_at(bench: Bench, row: int) -> str:
    first, second = bench.state.texture.first_set_c, bench.state.texture.second_set_c
    if first is None or np.isnan(first.value[row]):
        heated = any(
            agent.sets_on == "heating" and agent.sets[row] > 0
            for agent in bench.state.agents.values()
        )
        return "on heating" if heated else "on standing"
    said = f"from about {_degrees(first, row)} on cooling"
    if second is None or np.isnan(second.value[row]):
        return said
    return f"{said}, the second gel from about {_degrees(second, row)}"


def _degrees(span: Spans, row: int) -> str:
    value, low, high = (float(part[row]) for part in span)
    celsius, fahrenheit = round(value), round(fahrenheit_from_celsius(value))
    return f"{celsius} °C ({fahrenheit} °F; {round(low)} to {round(high)} °C)"


def _join(words: tuple[str, ...]) -> str:
    return ", ".join(words) if words else "character not known"
