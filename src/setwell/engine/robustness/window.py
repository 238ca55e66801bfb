"""The window a batch must land in: by the goal, like the author's own, or as given."""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Window:
    """What counts as a success; None leaves a side open.

    `sets` True asks for a gel, False for none, None for neither. Stiffness and stress in kPa,
    thickness in mPa·s at slow stirring. `is_relative` marks a window laid around the batch as
    written: a law that is wrong by one factor then moves both and cancels.
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
    must_stand_when_served: bool = False
    is_relative: bool = False
