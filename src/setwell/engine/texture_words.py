"""From numbers to the words of the trade, and one sentence for the whole."""

from setwell.engine.assessment import Texture, Verdict
from setwell.engine.gelling.state import NO, STIRRING_RATE, YES
from setwell.engine.rules.bench import PRACTICE, Bench
from setwell.engine.spans import Spans
from setwell.engine.texture import CHARACTER
from setwell.provenance import Estimate, Evidence
from setwell.tables.agents import agent_rows
from setwell.tables.rules import FirmnessBand, firmness_bands
from setwell.units import fahrenheit_from_celsius

_VERDICTS = {1: Verdict.YES, 0: Verdict.CANNOT_TELL, -1: Verdict.NO}
# One agent speaks for the gel when it brings this share of the modulus (our judgment).
_LEADS = 0.75


def verdict(code: int) -> Verdict:
    """Return the verdict behind a code."""
    return _VERDICTS[int(code)]


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
    if low is high:
        return middle.name
    return f"{middle.name} (from {low.name} to {high.name})"


def _band(kilopascal: float) -> FirmnessBand:
    bands = firmness_bands()
    return next((band for band in bands if band.contains(max(kilopascal, bands[0].low))), bands[-1])


def character(bench: Bench, row: int) -> tuple[str, ...]:
    """Return the trade words of the gel, from the agent or agents that carry it."""
    moduli = {
        key: float(agent.modulus.value[row])
        for key, agent in bench.state.agents.items()
        if agent.modulus is not None and agent.sets[row] != NO
    }
    total = sum(moduli.values())
    thickeners = [key for key, a in bench.state.agents.items() if a.flow is not None]
    if total <= 0:
        return tuple(word for key in thickeners for word in CHARACTER[key])
    leading = [key for key, value in moduli.items() if value / total >= _LEADS]
    if {"kappa_carrageenan", "iota_carrageenan"} <= set(moduli):
        return _carrageenan_blend(bench, row)
    carried_by = leading or list(moduli)
    return tuple(dict.fromkeys(word for key in carried_by for word in CHARACTER.get(key, ())))


def _carrageenan_blend(bench: Bench, row: int) -> tuple[str, ...]:
    """Kappa and iota tune between brittle and soft by their ratio (common practice)."""
    kappa = float(bench.state.doses_pct["kappa_carrageenan"][row])
    iota = float(bench.state.doses_pct["iota_carrageenan"][row])
    share = kappa / (kappa + iota)
    if share > 0.75:
        return ("brittle", "short", "a little bend from iota")
    if share >= 0.4:
        return ("between brittle and soft", "tender", "bends before it breaks")
    return ("soft", "elastic", "spreads")


def texture_words(bench: Bench, row: int = 0) -> Texture:
    """Return the texture of one candidate in words and numbers."""
    state = bench.state.texture
    words = character(bench, row)
    modulus = None
    if state.modulus is not None and float(state.modulus.high[row]) > 0:
        modulus = kilopascals(
            state.modulus, row, model="moduli of the agents added", evidence=PRACTICE
        )
    sets = verdict(state.sets[row]) if bench.agents else Verdict.NO
    firmness = firmness_words(modulus)
    return Texture(_sentence(bench, row, sets, firmness, words), sets, modulus, firmness, words)


def _sentence(bench: Bench, row: int, sets: Verdict, firmness: str, words: tuple[str, ...]) -> str:
    if not bench.agents:
        return "No texture agent: nothing here is known to set or thicken."
    if sets is Verdict.YES:
        return f"Sets {_set_at(bench, row)}: {firmness or 'firmness not computed'}; {_join(words)}."
    if sets is Verdict.CANNOT_TELL:
        return _open_sentence(bench, firmness, words)
    return _liquid_sentence(bench, row, words)


def _open_sentence(bench: Bench, firmness: str, words: tuple[str, ...]) -> str:
    state = bench.state.texture
    if not state.is_all_modeled and state.modulus is None:
        return "Chart values only: whether and how firmly it sets is not computed yet."
    return f"May or may not set; if it does, {firmness or 'firmness open'}; {_join(words)}."


def _liquid_sentence(bench: Bench, row: int, words: tuple[str, ...]) -> str:
    state = bench.state.texture
    if state.flow is not None:
        thick = state.flow.at(STIRRING_RATE).scaled(1000.0)
        return (
            f"Thickens and does not set: about {_rough(thick.value[row])} mPa·s "
            f"({_rough(thick.low[row], 1)} to {_rough(thick.high[row])}), {_join(words)}."
        )
    if any(agent.modulus is None for agent in bench.state.agents.values()):
        return "Thickens and does not set; how thick is not computed for this agent yet."
    if _suspends(bench, row):
        return "Does not set: a dose that only keeps things suspended."
    return "Does not set as written."


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
    hottest = [
        agent.set_c
        for agent in bench.state.agents.values()
        if agent.set_c is not None and agent.sets[row] == YES
    ]
    if not hottest:
        return "on cooling"
    first = max(hottest, key=lambda span: float(span.value[row]))
    value, low, high = (float(part[row]) for part in first)
    celsius, fahrenheit = round(value), round(fahrenheit_from_celsius(value))
    return (
        f"from about {celsius} °C ({fahrenheit} °F) on cooling ({round(low)} to {round(high)} °C)"
    )


def _join(words: tuple[str, ...]) -> str:
    return ", ".join(words) if words else "character not known"
