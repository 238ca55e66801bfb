"""What the method of a proposal asks of the cook, in short plain lines."""

from collections.abc import Iterator, Sequence

from setwell.domain.steps import Step, StepKind, Stirring
from setwell.engine.rules.bench import Bench
from setwell.engine.substitution.work import pour_above
from setwell.units import duration_print, temperature_print

_HEATS = frozenset({StepKind.HEAT, StepKind.BOIL})
_OVERNIGHT_MIN = 600.0


def process_of_proposal(bench: Bench) -> tuple[str, ...]:
    """Return what the method asks of the cook, in the order of its steps."""
    pour_c = pour_above(bench.state.texture)
    told = (line for n in range(len(bench.steps)) for line in _asks(bench.steps, n, pour_c))
    return tuple(dict.fromkeys(told))


def _asks(steps: Sequence[Step], at: int, pour_c: float | None) -> Iterator[str]:
    """Yield what one step asks."""
    step, before = steps[at], steps[:at]
    text = step.text.casefold()
    if step.kind in _HEATS:
        yield from _heats(step, before)
    elif step.kind in {StepKind.CHILL, StepKind.REST} and step.hold_min is not None:
        yield _waits(step, step.hold_min, is_poured=_has(before, {StepKind.POUR}))
    elif step.kind is StepKind.POUR:
        yield from _pours(step, before, pour_c)
    elif step.is_acid_addition:
        yield _sours(before)
    else:
        yield from _takes_in(step, text)


def _takes_in(step: Step, text: str) -> Iterator[str]:
    if step.kind is StepKind.BLOOM:
        yield "bloom in cold water"
    elif step.kind is StepKind.DISPERSE:
        yield _disperses(step, text)
    elif "citrate" in text:
        yield "citrate first"
    elif "calcium" in text:
        yield "calcium last, in a thin stream"
    elif "potassium" in text:
        yield "potassium after the heat, dissolved"


def _heats(step: Step, before: Sequence[Step]) -> Iterator[str]:
    if step.kind is StepKind.BOIL:
        yield "boil"
    elif step.temperature_c is not None:
        # What was only stirred at the warmth of the room is not warmed again.
        is_again = _has(before, {StepKind.POUR}) and _has(before, {*_HEATS, StepKind.CHILL})
        verb = "warm again" if is_again else "heat"
        yield f"{verb} to {temperature_print(step.temperature_c)}"


def _has(steps: Sequence[Step], kinds: set[StepKind] | frozenset[StepKind]) -> bool:
    return any(step.kind in kinds for step in steps)


def _disperses(step: Step, text: str) -> str:
    if "slurry" in text:
        return "stir the starch to a cold slurry"
    if step.stirring is Stirring.BLENDER:
        return "disperse with a blender or with sugar"
    return "disperse with sugar" if "dry-mixed" in text else "disperse little by little"


def _sours(before: Sequence[Step]) -> str:
    if not _has(before, _HEATS):
        return "acid from the start"
    last = before[-1]
    if last.kind is StepKind.COOL and last.temperature_c is not None:
        return f"acid late, below {temperature_print(last.temperature_c)}"
    return "acid late, off the heat"


def _waits(step: Step, minutes: float, *, is_poured: bool) -> str:
    if step.kind is StepKind.REST:
        return f"rest {duration_print(minutes)}"
    if not is_poured:
        return f"dissolve cold for {duration_print(minutes)}"
    if minutes >= _OVERNIGHT_MIN:
        return "overnight in the fridge"
    return f"{duration_print(minutes)} in the fridge"


def _pours(step: Step, before: Sequence[Step], pour_c: float | None) -> Iterator[str]:
    """Yield how warm it has to be poured, by the step or by where its gel sets."""
    if "bath" in step.text.casefold():
        yield "for drops, a calcium bath"
    elif step.temperature_c is not None:
        yield f"pour above {temperature_print(step.temperature_c)}"
    elif pour_c is not None and _has(before, _HEATS):
        now = [one.temperature_c for one in before if one.temperature_c is not None]
        is_warm = bool(now) and now[-1] > pour_c
        yield f"pour above {temperature_print(pour_c)}" if is_warm else "pour at once"
