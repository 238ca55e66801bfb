"""Changes of lines or steps, written into the formula so that the editor can open it."""

import re
from collections.abc import Callable

from setwell.domain.formula import Formula
from setwell.domain.steps import Step, StepKind, Stirring, steps_parse
from setwell.engine.process import batch_temperature
from setwell.engine.robustness.weighing import agent_rows_of
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.units import number_read

_DOSES = {"dose_up": 1.08, "dose_down": 1.0 / 1.08}
_LONGER_MIN = 5.0
_HEATED = frozenset({StepKind.HEAT, StepKind.HOLD, StepKind.BLEND, StepKind.BOIL})
_AMOUNT = re.compile(r"\A(\s*)(\d+(?:[.,]\d+)?)(?![\d/,.¼½¾⅓⅔]|\s*(?:to|-|–|/)?\s*\d)")
_DEGREES = re.compile(r"\d+(?:[.,]\d+)?\s*°\s*C(?:\s*\([^)]*\))?")
_MINUTES = re.compile(r"(\d+(?:\.\d+)?)(\s*min(?:utes?)?\b)")
_NOW_AND_THEN = re.compile(r"now and then|occasionally|from time to time|often", re.IGNORECASE)


def changed_formula(key: str, bench: Bench) -> Formula | None:
    """Return the formula with a change made; None where it is no change of what is written."""
    if key in _DOSES:
        return _dosed(bench, _DOSES[key])
    rewrite = {"boil": _boiled, "hold": _held, "stir": _stirred}.get(key)
    return None if rewrite is None else _restepped(bench, rewrite)


def _dosed(bench: Bench, factor: float) -> Formula | None:
    lines = bench.formula.ingredients.splitlines()
    rows = agent_rows_of(bench.plan)
    if not rows:
        return None
    for row in rows:
        reading = bench.plan.readings[bench.plan.used[row]]
        place = reading.number - 1
        changed = _AMOUNT.sub(lambda found: _times(found, factor), lines[place], count=1)
        if changed == lines[place]:
            return None
        lines[place] = changed
    return bench.formula.revised(ingredients="\n".join(lines))


def _times(found: re.Match[str], factor: float) -> str:
    amount = number_read(found[2])
    if not isinstance(amount, float):
        return found[0]
    return f"{found[1]}{float(f'{amount * factor:.3g}'):g}"


def _restepped(
    bench: Bench, rewrite: Callable[[tuple[Step, ...]], dict[int, str]]
) -> Formula | None:
    """Return the formula with some steps rewritten, where they stand in it as they were read."""
    text, steps = bench.formula.steps, bench.steps
    try:
        wanted = rewrite(steps)
    except InputError:
        return None
    if not wanted:
        return None
    start = 0
    for place, step in enumerate(steps):
        found = text.find(step.text, start)
        if found < 0:
            return None
        said = wanted.get(place, step.text)
        text = text[:found] + said + text[found + len(step.text) :]
        start = found + len(said)
    return bench.formula.revised(steps=text)


def _hottest(steps: tuple[Step, ...]) -> list[int]:
    degrees = [batch_temperature(step) or 0.0 for step in steps]
    most = max(degrees, default=0.0)
    return [
        place
        for place, step in enumerate(steps)
        if degrees[place] == most > 0.0 and step.kind in _HEATED
    ]


def _boiled(steps: tuple[Step, ...]) -> dict[int, str]:
    places = _hottest(steps)
    said = {place: _DEGREES.sub("100 °C (212 °F)", steps[place].text) for place in places}
    if not any(steps[place].hold_min for place in places) and places:
        said[places[-1]] = _and(said[places[-1]], "boil for 1 min")
    return said if all(_reads(one, temperature_c=100.0) for one in said.values()) else {}


def _held(steps: tuple[Step, ...]) -> dict[int, str]:
    places = _hottest(steps)
    if not places:
        return {}
    last = steps[places[-1]]
    longer = (last.hold_min or 0.0) + _LONGER_MIN
    if last.hold_min is None:
        said = _and(last.text, f"hold for {longer:g} min")
    else:
        said = _MINUTES.sub(lambda found: f"{longer:g}{found[2]}", last.text, count=1)
    return {places[-1]: said} if _reads(said, hold_min=longer) else {}


def _stirred(steps: tuple[Step, ...]) -> dict[int, str]:
    said = {}
    for place, step in enumerate(steps):
        if step.kind not in _HEATED or step.stirring in {Stirring.CONSTANT, Stirring.BLENDER}:
            continue
        told = _NOW_AND_THEN.sub("all the time", step.text, count=1)
        if told == step.text:
            told = _and(step.text, "keep stirring all the time, to the bottom")
        if not _reads(told, stirring=Stirring.CONSTANT):
            return {}
        said[place] = told
    return said


def _and(text: str, more: str) -> str:
    kept = text.rstrip()
    return f"{kept.removesuffix('.')}, and {more}{'.' if kept.endswith('.') else ''}"


def _reads(text: str, **wanted: object) -> bool:
    """Return whether a rewritten step is read as meant, in any of its pieces."""
    pieces = steps_parse(text)
    return all(any(getattr(one, name) == value for one in pieces) for name, value in wanted.items())
