"""The window a batch must land in: by the goal, like the author's own, or as given."""

from dataclasses import dataclass, fields
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.domain.formula import Goal
from setwell.engine.gelling.state import NO, STIRRING_RATE, YES
from setwell.engine.pipeline import BatchState
from setwell.errors import InputError, OutOfRangeError

Array = NDArray[np.float64]
Mask = NDArray[np.bool_]

# Like the author's: within this factor either way (our judgment; tasters tell about that apart).
ALIKE = 1.5
# A slice needs the lower end of "soft", a spoon that of "spoonable" and less than "firm" [kPa].
SLICE_KPA, SPOON_KPA = 0.3, (0.05, 5.0)
# Thicker than "coating" no longer pours [mPa·s].
POURS_MPA_S = 600.0


@dataclass(frozen=True, slots=True)
class Window:
    """What counts as a success; None leaves a side open.

    `sets` True asks for a gel that stands when served, False for none, None for neither.
    Stiffness and stress in kPa, thickness in mPa·s at slow stirring. `is_relative` marks a
    window laid around the batch as written: a law that is wrong by one factor then moves both
    and cancels.
    """

    sets: bool | None = None
    modulus_low: float | None = None
    modulus_high: float | None = None
    stress_low: float | None = None
    stress_high: float | None = None
    strain_low: float | None = None
    strain_high: float | None = None
    thickness_low: float | None = None
    thickness_high: float | None = None
    is_relative: bool = False


class Measures(NamedTuple):
    """The quantities of n batches in the units of the window; NaN where there is no such thing."""

    codes: NDArray[np.int8]
    modulus: Array
    stress: Array
    strain: Array
    thickness: Array


class Miss(NamedTuple):
    """One way to miss the window, and which batches do."""

    key: str
    text: str
    mask: Mask


_SIDES = (
    ("modulus", "low", "too soft", "softer than {:g} kPa"),
    ("modulus", "high", "too firm", "firmer than {:g} kPa"),
    ("stress", "low", "too weak", "breaks below {:g} kPa"),
    ("stress", "high", "too strong", "breaks above {:g} kPa"),
    ("strain", "low", "too short", "breaks before a strain of {:g}"),
    ("strain", "high", "too elastic", "bends past a strain of {:g}"),
    ("thickness", "low", "too thin", "thinner than {:g} mPa·s"),
    ("thickness", "high", "too thick", "thicker than {:g} mPa·s"),
)
_GELS = frozenset({"modulus", "stress", "strain"})


def measures(state: BatchState) -> Measures:
    """Return the quantities of all candidates, the middle of each."""
    texture, nothing = state.texture, np.full(len(state.masses), np.nan)
    gel, flow = texture.gel, texture.flow
    stiff = nothing if gel is None else gel.modulus.value / 1000.0
    return Measures(
        texture.sets,
        stiff,
        nothing if gel is None else gel.fracture_stress.value / 1000.0,
        nothing if gel is None else gel.fracture_strain.value,
        nothing if flow is None else flow.at(STIRRING_RATE).value * 1000.0,
    )


def window_check(window: Window) -> Window:
    """Return the window, or say which of its sides contradict each other."""
    for name in ("modulus", "stress", "strain", "thickness"):
        low, high = getattr(window, f"{name}_low"), getattr(window, f"{name}_high")
        for side, value in (("low", low), ("high", high)):
            if value is not None and not (np.isfinite(value) and value >= 0):
                raise OutOfRangeError(
                    f"The {name} window has an end at {value:g}; it must be 0 or more.",
                    field=f"{name}_{side}",
                    hint="Leave it empty to keep that side open.",
                )
        if low is not None and high is not None and low >= high:
            raise OutOfRangeError(
                f"The {name} window runs from {low:g} down to {high:g}: nothing can be in it.",
                field=f"{name}_low",
                hint="Swap the two, or leave one empty.",
            )
        if window.sets is False and name in _GELS and low:
            raise InputError(
                f"The window asks for no gel and for a {name} of at least {low:g}.",
                field=f"{name}_low",
                hint="Ask for a gel, or leave this empty.",
            )
    wanted = (getattr(window, one.name) for one in fields(window) if one.name != "is_relative")
    if all(value is None for value in wanted):
        raise InputError(
            "The window leaves everything open, so every batch is in it.",
            field="window",
            hint="Give at least one limit, or leave the window out for that of the goal.",
        )
    return window


def window_for(goal: Goal, planned: BatchState) -> Window:
    """Return what the goal asks for; without one, the batch like the author's own."""
    if goal is Goal.SLICE:
        return Window(sets=True, modulus_low=SLICE_KPA)
    if goal is Goal.SPOON:
        return Window(sets=True, modulus_low=SPOON_KPA[0], modulus_high=SPOON_KPA[1])
    if goal is Goal.POUR:
        return Window(sets=False, thickness_high=POURS_MPA_S)
    found = measures(planned)
    stiff, thick = float(found.modulus[0]), float(found.thickness[0])
    if found.codes[0] > NO and stiff > 0:
        return Window(
            sets=True, modulus_low=stiff / ALIKE, modulus_high=stiff * ALIKE, is_relative=True
        )
    if thick > 0:
        return Window(thickness_low=thick / ALIKE, thickness_high=thick * ALIKE, is_relative=True)
    raise InputError(
        "Nothing in this formula sets or thickens, so there is no texture to land on.",
        field="formula",
        hint="Add an agent, or give a window yourself.",
    )


def misses(
    window: Window, found: Measures, *, law_log: float = 0.0, is_strict: bool = False
) -> tuple[Miss, ...]:
    """Return who misses the window in which way.

    `law_log` is how far the laws are off on the log axis of stiffness, stress and thickness;
    `is_strict` counts a gel that may or may not form as none.
    """
    stands = np.nan_to_num(found.modulus) > 0
    gels = (found.codes == YES if is_strict else found.codes > NO) & stands
    told: list[Miss] = []
    if window.sets is True:
        told.append(Miss("does_not_set", "does not set, or has melted when served", ~gels))
    if window.sets is False:
        told.append(Miss("sets", "sets, and should not", gels))
    factor = float(np.exp(law_log))
    for name, side, short, text in _SIDES:
        limit = getattr(window, f"{name}_{side}")
        if limit is None:
            continue
        values = getattr(found, name) * (1.0 if name == "strain" else factor)
        beyond = np.nan_to_num(values) < limit if side == "low" else np.nan_to_num(values) > limit
        if name in _GELS and window.sets is True:
            # Told already as not set.
            beyond = beyond & gels
        told.append(Miss(short.replace(" ", "_"), f"{short}: {text.format(_short(limit))}", beyond))
    return tuple(told)


def _short(value: float) -> float:
    return float(f"{value:.3g}")


def inside(told: tuple[Miss, ...], count: int) -> Mask:
    """Return which batches land in the window."""
    out = np.zeros(count, dtype=np.bool_)
    for miss in told:
        out |= miss.mask
    return ~out


def window_words(window: Window) -> str:
    """Return the window in words."""
    parts = []
    if window.sets is not None:
        parts.append("sets and stands when served" if window.sets else "does not set")
    units = {"modulus": "stiffness", "stress": "stress at break", "strain": "strain at break",
             "thickness": "thickness"}  # fmt: skip
    for name, word in units.items():
        low, high = getattr(window, f"{name}_low"), getattr(window, f"{name}_high")
        unit = {"strain": "", "thickness": " mPa·s"}.get(name, " kPa")
        if low is not None and high is not None:
            parts.append(f"{word} {low:.3g} to {high:.3g}{unit}")
        elif low is not None:
            parts.append(f"{word} of at least {low:.3g}{unit}")
        elif high is not None:
            parts.append(f"{word} up to {high:.3g}{unit}")
    text = ", ".join(parts)
    return f"like the batch as written: {text}" if window.is_relative else text
