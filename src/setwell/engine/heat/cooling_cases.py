"""The slow and the quick case of a cooling: every doubt moved by its share of the whole.

Not all doubts go wrong together. Each is moved in proportion to what it does to the time, so that
the joint change is the root of the sum of squares: the likeliest way to be that far off. Moving
air, the shelf below and the steam on top are doubts of their own. Close to the air its own
temperature counts most, so each case comes twice: for the whole of the way, and for its end.
"""

import math
from dataclasses import dataclass

from setwell.domain.equipment import CoolerKind
from setwell.engine.heat.cold_faces import Faces
from setwell.engine.heat.mold_body import Food, face_areas
from setwell.engine.heat.mold_form import MoldGeometry
from setwell.engine.heat.results import Foodstuff

# How far the air of a place wanders from what it is set to [K] (our judgment).
_AIR_K: dict[CoolerKind, float] = {
    CoolerKind.FRIDGE: 1.5,
    CoolerKind.VENTILATED_FRIDGE: 1.0,
    CoolerKind.BLAST_CHILLER: 1.5,
    CoolerKind.ICE_BATH: 0.5,
    CoolerKind.FREEZER: 2.0,
    CoolerKind.COUNTER: 2.0,
}
# The share of the difference that is left where the times of a kitchen are read; at the end of the
# way it is what is left at 5 °C (41 °F), but no less than this.
LEFT, _LEAST_LEFT = 0.1, 0.01
_COLD_C = 5.0
# Of the range of a warmed air this share goes along with the other doubts (root of a half).
_WARMED = 0.7


@dataclass(frozen=True, slots=True)
class Case:
    """One way it may go: factors on the food, shifts in K, and the pull on the coefficients.

    `pull` is that of the air on all faces, `shelf` and `steam` those of base and open top.
    `warmed` from -1 to 1 takes the low or the high side of a course of the air.
    """

    pull: float = 0.0
    conductivity: float = 1.0
    capacity: float = 1.0
    air_k: float = 0.0
    pour_k: float = 0.0
    warmed: float = 0.0
    shelf: float = 0.0
    steam: float = 0.0

    def own(self, face: str) -> float:
        """Return the pull on what is peculiar to a face."""
        return {"base": self.shelf, "top": self.steam}.get(face, 0.0)

    def food(self, food: Food) -> Food:
        """Return the food of this case."""
        return food.scaled(self.conductivity, self.capacity)


MIDDLE = Case()


@dataclass(frozen=True, slots=True)
class Situation:
    """What the doubts are weighed by."""

    mold: MoldGeometry
    foodstuff: Foodstuff
    faces: Faces
    start_c: float
    pour_k: float
    outside_share: float

    @property
    def fall(self) -> float:
        """Difference to the air at the pour [K]."""
        return max(abs(self.start_c - self.faces.cooler.air_c), 5.0)


def food_of(stuff: Foodstuff) -> Food:
    """Return what a foodstuff is to a body."""
    return Food(stuff.conductivity, stuff.density * stuff.heat_capacity)


def slow_case(situation: Situation, left: float = LEFT) -> Case:
    """Return the case in which everything is late, by what counts with this share left."""
    return _case(situation, left, is_slow=True)


def quick_case(situation: Situation, left: float = LEFT) -> Case:
    """Return the case in which everything is early, by what counts with this share left."""
    return _case(situation, left, is_slow=False)


def left_at_end(situation: Situation) -> float:
    """Return the share of the difference that is left when the food is cold."""
    left = (_COLD_C - situation.faces.cooler.air_c) / situation.fall
    return min(max(left, _LEAST_LEFT), LEFT)


def air_doubt(faces: Faces) -> float:
    """Return how far the air of a place may be off [K]."""
    return _AIR_K[faces.cooler.kind]


def coefficient_ratios(at: Situation, *, is_slow: bool) -> tuple[float, float, float]:
    """Return the logarithms of the coefficient's ends over its middle, over all faces.

    One each for the air, the shelf and the steam.
    """
    difference, pull = 0.3 * at.fall, -1.0 if is_slow else 1.0
    areas = face_areas(at.mold)

    def over_all(air: float, base: float, top: float) -> float:
        own = {"base": base, "top": top}
        return sum(
            area * at.faces.passed(name, difference, air, own.get(name, 0.0))
            for name, area in areas.items()
        )

    usual = over_all(0.0, 0.0, 0.0)
    ends = (over_all(pull, 0.0, 0.0), over_all(0.0, pull, 0.0), over_all(0.0, 0.0, pull))
    air, shelf, steam = (_log_ratio(end, usual) for end in ends)
    return air, shelf, steam


def _case(at: Situation, left: float, *, is_slow: bool) -> Case:
    stuff, share = at.foodstuff, at.outside_share
    sign = 1.0 if is_slow else -1.0
    side = 0 if is_slow else 1
    k_end = stuff.conductivity_range[side]
    heavy = stuff.heat_capacity_range[1 - side] * stuff.density_range[1 - side]
    ratio_k = _log_ratio(k_end, stuff.conductivity)
    ratio_c = _log_ratio(heavy, stuff.heat_capacity * stuff.density)
    air, pour = air_doubt(at.faces), at.pour_k
    decades = -math.log(left)
    # What each doubt alone does to the logarithm of the time.
    moved = (
        *(share * abs(ratio) for ratio in coefficient_ratios(at, is_slow=is_slow)),
        (1.0 - share) * abs(ratio_k),
        abs(ratio_c),
        air * (1.0 / left - 1.0) / (at.fall * decades),
        pour / (at.fall * decades),
    )
    total = math.sqrt(sum(one**2 for one in moved))
    by = [one / total if total > 0 else 0.0 for one in moved]
    return Case(
        pull=-sign * by[0],
        shelf=-sign * by[1],
        steam=-sign * by[2],
        conductivity=math.exp(ratio_k * by[3]),
        capacity=math.exp(ratio_c * by[4]),
        air_k=sign * air * by[5],
        pour_k=sign * pour * by[6],
        warmed=sign * _WARMED,
    )


def _log_ratio(end: float, middle: float) -> float:
    return math.log(max(end, 1e-12) / max(middle, 1e-12))
