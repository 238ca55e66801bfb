"""The steps of a formula rewritten for another agent."""

import re
from collections.abc import Sequence
from dataclasses import dataclass

from setwell.domain.steps import Step, StepKind, step_parse
from setwell.engine.powder_handling import (
    Family,
    family_of,
    heat_text,
    hold_min,
    is_acid_shy,
    steps_text,
)
from setwell.engine.process import batch_temperature
from setwell.engine.rules.dispersion import needed_c
from setwell.units import temperature_print

__all__ = ["Family", "NewAgent", "family_of", "hold_min", "is_acid_shy", "steps_text", "steps_with"]

_HEATING = frozenset({StepKind.HEAT, StepKind.BOIL, StepKind.HOLD})
_LAST = frozenset({StepKind.POUR, StepKind.CHILL, StepKind.SERVE, StepKind.UNMOLD, StepKind.FREEZE})
# Hot enough that soaked gelatin goes in only afterwards (common practice) [°C].
_TOO_HOT_C = 75.0
_MELTS_C = 50.0
_MELT_IN_C = 60.0
_BOILS_C = 95.0
# Gelatin goes on stiffening overnight; the others are done once cold through [h].
_OVERNIGHT_H, _LONG_MIN = 12, 360.0
_DEGREES = re.compile(r"\d+(?:[.,]\d+)?\s*°\s*[CF](?:\s*\([^)]*\))?")
_STIR = re.compile(r"\bstir|\bwhisk", re.IGNORECASE)


@dataclass(frozen=True, slots=True)
class NewAgent:
    """What the steps have to say of the new agent.

    `late` are names of acid ingredients that go in at the end; `salts` are stirred in after
    heating. `pour_c` is the least temperature to pour at.
    """

    key: str
    line_name: str
    salts: tuple[str, ...] = ()
    late: tuple[str, ...] = ()
    pour_c: float | None = None


def steps_with(kept: Sequence[Step], new: NewAgent, *, is_in: bool = False) -> str:
    """Return the method with the new agent brought in as it needs; `is_in` where it is already."""
    family = family_of(new.key)
    texts = _hot(list(kept), new, is_in=True) if is_in else _SHAPES[family](list(kept), new)
    texts = _acid_late(texts, kept, new)
    return steps_text(_ended(texts, new, family))


def _soaked(kept: list[Step], new: NewAgent) -> list[str]:
    name, texts = new.line_name, [step.text for step in kept]
    end = _before_end(kept)
    # What is reheated after it has set is another matter.
    hot = [n for n, step in enumerate(kept[:end]) if _degrees(step) >= _MELTS_C]
    melt = f"{_MELT_IN_C:g} °C ({_MELT_IN_C * 1.8 + 32:g} °F)"
    if not hot:
        at = end
        said = [
            f"Bloom the {name} in five times its weight of cold water for 10 min",
            f"Warm the bloomed {name} with a part of the liquid to {melt}, hold 5 min, and "
            "whisk it into the rest",
        ]
        return [*texts[:at], *said, *texts[at:]]
    last = hot[-1] + 1
    cool = [f"Cool to {melt}"] if _degrees(kept[last - 1]) > _TOO_HOT_C else []
    said = [
        *cool,
        f"Bloom the {name} in five times its weight of cold water for 10 min",
        f"Stir in the bloomed {name} and hold at {melt} for 5 min",
    ]
    return [*texts[:last], *said, *_salted(new), *texts[last:]]


def _cold(kept: list[Step], new: NewAgent) -> list[str]:
    texts = [step.text for step in kept]
    at = _first_hot(kept)
    wait = hold_min(new.key)
    said = [
        f"Blend the {new.line_name}, mixed dry with five times its weight of another powder, "
        "into the cold liquid",
        *_salted(new),
        f"Rest for {wait:g} min",
    ]
    return [*texts[:at], *said, *texts[at:]]


def _hot(kept: list[Step], new: NewAgent, *, is_in: bool = False) -> list[str]:
    name = new.line_name
    if family_of(new.key) is Family.SLURRY:
        first = f"Stir the {name} to a slurry in three times its weight of cold liquid"
    else:
        first = (
            f"Disperse the {name}, mixed dry with five times its weight of sugar or another "
            "powder, in the cold liquid with a blender"
        )
    texts = [step.text for step in kept]
    needed = needed_c(new.key)
    at = _first_hot(kept)
    enough = [n for n, step in enumerate(kept) if _degrees(step) >= needed - 1e-9]
    if enough:
        after = enough[0] + 1
    elif at < len(kept) and kept[at].kind in _HEATING:
        texts[at] = _hotter(kept[at], needed, hold_min(new.key))
        after = at + 1
    else:
        texts[at:at] = [heat_text(needed, hold_min(new.key))]
        after = at + 1
    said = [] if is_in else [first]
    return [*texts[:at], *said, *texts[at:after], *_salted(new), *texts[after:]]


_SHAPES = {
    Family.SOAKED: _soaked,
    Family.COLD: _cold,
    Family.SLURRY: _hot,
    Family.HOT: _hot,
}


def _salted(new: NewAgent) -> list[str]:
    return [f"Stir in the {salt}, dissolved in a little water" for salt in new.salts]


def _hotter(step: Step, needed: float, minutes: float) -> str:
    """Return a heating step that goes as far as needed, in its own words where it has any."""
    if step.temperature_c is None or _DEGREES.search(step.text) is None or needed >= _BOILS_C:
        return heat_text(needed, minutes)
    text = _DEGREES.sub(temperature_print(needed), step.text, count=1).rstrip(". ")
    if step.hold_min is None:
        text += f", hold for {minutes:g} min"
    return text if _STIR.search(text) else f"{text}, stirring all the time"


def _acid_late(texts: list[str], kept: Sequence[Step], new: NewAgent) -> list[str]:
    """Return the steps with the acid after the heat, where hot acid would cost strength."""
    if not is_acid_shy(new.key):
        return texts
    sour = [step.text for step in kept if step.is_acid_addition]
    first_hot = next((n for n, t in enumerate(texts) if _is_hot_text(t)), None)
    early = [t for t in sour if first_hot is not None and texts.index(t) <= first_hot]
    for text in early:
        texts.remove(text)
    late = early
    if not sour and new.late:
        late = [f"Stir in the {' and the '.join(new.late)} last, off the heat"]
    at = next((n for n, t in enumerate(texts) if _kind(t) in _LAST), len(texts))
    return [*texts[:at], *late, *texts[at:]]


def _ended(texts: list[str], new: NewAgent, family: Family) -> list[str]:
    """Return the steps with how warm to pour and how long to chill."""
    done = []
    for text in texts:
        step = step_parse(text)
        if step.kind is StepKind.POUR and step.temperature_c is None and new.pour_c is not None:
            plain = text.rstrip(". ")
            text = f"{plain} while above {temperature_print(new.pour_c)}"  # noqa: PLW2901
        elif family is Family.SOAKED and step.kind is StepKind.CHILL and _is_short(step):
            degrees = 4.0 if step.temperature_c is None else step.temperature_c
            text = f"Chill to {temperature_print(degrees)} for {_OVERNIGHT_H} h"  # noqa: PLW2901
        done.append(text)
    return done


def _is_short(step: Step) -> bool:
    return step.hold_min is None or step.hold_min < _LONG_MIN


def _kind(text: str) -> StepKind:
    return step_parse(text).kind


def _is_hot_text(text: str) -> bool:
    step = step_parse(text)
    return step.kind in _HEATING and not _degrees(step) < _MELTS_C


def _degrees(step: Step) -> float:
    """Return how hot a heating step gets the batch; NaN where it does not say."""
    degrees = batch_temperature(step) if step.kind in _HEATING else None
    return float("nan") if degrees is None else degrees


def _first_hot(kept: Sequence[Step]) -> int:
    """Return where the heating starts; before the end where nothing is heated."""
    hot = next((n for n, step in enumerate(kept) if step.kind in _HEATING), None)
    return _before_end(kept) if hot is None else hot


def _before_end(kept: Sequence[Step]) -> int:
    return next((n for n, step in enumerate(kept) if step.kind in _LAST), len(kept))
