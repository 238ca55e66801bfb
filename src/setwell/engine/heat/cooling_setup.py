"""One mold on its way: the food, the form, the places it stands in, and the march through them."""

from dataclasses import dataclass, replace
from functools import cached_property

import numpy as np
from numpy.typing import NDArray

from setwell.domain.equipment import Cooler, CoolerKind
from setwell.domain.process_plan import CoolPlan
from setwell.engine.heat.cold_faces import Faces, faces_of
from setwell.engine.heat.cooling_cases import MIDDLE, Case, Situation, food_of
from setwell.engine.heat.course import Course
from setwell.engine.heat.directions import SmallBody
from setwell.engine.heat.equipment import Wall
from setwell.engine.heat.foodstuff import foodstuff_of
from setwell.engine.heat.march import STRETCHES, Marched, Surroundings, march
from setwell.engine.heat.mold_body import (
    FINE,
    body_of_mold,
    face_areas,
    mold_wall,
    time_constant,
)
from setwell.engine.heat.mold_form import MoldGeometry, mold_geometry
from setwell.engine.heat.pour_temperature import PourTemperature, pour_of
from setwell.engine.heat.results import Foodstuff
from setwell.engine.rules.bench import Bench
from setwell.errors import InputError
from setwell.provenance import Evidence, evidence_join

Array = NDArray[np.float64]

# Points of a course on the counter and in the cold place.
_COUNTER_POINTS, _COLD_POINTS = 60, 240
# A course ends after so many slow time constants, and within these bounds [s].
_CONSTANTS, _SHORTEST_S, _LONGEST_S = 7.0, 1_200.0, 60 * 86_400.0
# The coefficient at this share of the first difference stands for the whole.
_USUAL_SHARE = 0.3
# Properties are taken this far between the air and the pour.
_PROPERTY_SHARE = 0.4
# A course of the air is followed in steps of this number.
_AIR_STEPS = 24


@dataclass(frozen=True)
class CoolingSetup:
    """A mold, what is in it, and the places it goes through; `begins` in seconds."""

    mold: MoldGeometry
    wall: Wall | None
    stuff: Foodstuff
    pour: PourTemperature
    places: tuple[Faces, ...]
    begins: tuple[float, ...]
    air: Course | None = None

    @property
    def cold(self) -> Faces:
        """The faces in the cold place."""
        return self.places[-1]

    @property
    def start_c(self) -> float:
        """The temperature of the pour."""
        return self.pour.celsius

    @property
    def final_air_c(self) -> float:
        """What the air of the cold place comes down to in the end."""
        return self.cold.cooler.air_c if self.air is None else float(self.air.celsius[-1])

    @property
    def usual(self) -> dict[str, float]:
        """Coefficients that stand for the whole of the cooling [W/m2K]."""
        return self.cold.usual(_USUAL_SHARE * self.situation.fall)

    @cached_property
    def situation(self) -> Situation:
        """What the doubts are weighed by."""
        bare = Situation(self.mold, self.stuff, self.cold, self.start_c, self.pour.half_width, 1.0)
        food, areas = food_of(self.stuff), face_areas(self.mold)
        usual = self.cold.usual(_USUAL_SHARE * bare.fall)
        whole = time_constant(self.mold, food, usual)
        passed = sum(area * usual[name] for name, area in areas.items())
        outside = food.capacity * self.mold.volume / passed
        return replace(bare, outside_share=min(outside / whole, 1.0))

    @property
    def evidence(self) -> Evidence:
        """Where the numbers come from."""
        wall = () if self.wall is None else self.wall.evidence
        return evidence_join([self.stuff.evidence, *(one.evidence for one in self.places), wall])

    @property
    def flags(self) -> tuple[str, ...]:
        """What was assumed."""
        pour = (f"pour temperature {self.pour.origin}",) if self.pour.is_assumed else ()
        wall = () if self.wall is None else ("mold as warm as the pour",)
        told = [
            *self.mold.flags,
            *pour,
            *wall,
            *(flag for one in self.places for flag in one.flags),
        ]
        return tuple(dict.fromkeys(told))

    def seconds(self) -> Array:
        """Return the times of the courses: dense after each change of place."""
        usual = {n: self.cold.passed(n, 5.0, -1.0) for n in face_areas(self.mold)}
        constant = time_constant(self.mold, food_of(self.stuff), usual)
        span = float(np.clip(_CONSTANTS * constant, _SHORTEST_S, _LONGEST_S))
        moved = self.begins[-1]
        cold = moved + span * np.linspace(0.0, 1.0, _COLD_POINTS + 1) ** 2
        if moved == 0.0:
            return np.asarray(cold)
        counter = moved * np.linspace(0.0, 1.0, _COUNTER_POINTS, endpoint=False) ** 2
        return np.concatenate([counter, cold])

    def body(self, case: Case = MIDDLE, cells: tuple[int, int] = FINE) -> SmallBody:
        """Return the body of one case."""
        return body_of_mold(
            self.mold, case.food(food_of(self.stuff)), coefficients=self.usual, cells=cells
        )

    def march(
        self,
        seconds: Array,
        case: Case = MIDDLE,
        *,
        body: SmallBody | None = None,
        stretches: int = STRETCHES,
    ) -> Marched:
        """Return the course of one case at these times."""
        return march(
            self.body(case) if body is None else body,
            start_c=self.start_c + case.pour_k,
            air=self._surroundings(case),
            passing=lambda face, surface, air, begin: self._place(begin).passed(
                face, surface - air, case.pull, case.own(face)
            ),
            seconds=seconds,
            is_steady=all(one.is_steady for one in self.places),
            stretches=stretches,
        )

    def _place(self, seconds: float) -> Faces:
        after = [n for n, begin in enumerate(self.begins) if begin <= seconds + 1e-6]
        return self.places[after[-1]]

    def _surroundings(self, case: Case) -> Surroundings:
        begins = list(self.begins)
        levels = [_shifted(one.cooler, case.air_k) for one in self.places]
        if self.air is not None:
            steps, warmed = _air_steps(self.air, begins[-1], case.warmed)
            begins[-1:], levels[-1:] = steps, [level + case.air_k for level in warmed]
        return Surroundings(np.array(begins), np.array(levels))


def cooling_setup(
    bench: Bench, plan: CoolPlan, *, air: Course | None = None, row: int = 0
) -> CoolingSetup:
    """Return what is computed for a plan; `air` counts from when the molds go in."""
    pour = pour_of(bench, plan.pour_c, row)
    _check(plan, pour)
    around = plan.cooler.air_c
    stuff = foodstuff_of(bench, at_c=_property_c(pour.celsius, around), row=row)
    return setup_of_food(stuff, plan, pour=pour, air=air)


def setup_of_food(
    stuff: Foodstuff, plan: CoolPlan, *, pour: PourTemperature, air: Course | None = None
) -> CoolingSetup:
    """Return what is computed for a food whose properties are known."""
    mold = mold_geometry(plan.mold)
    wall = mold_wall(mold)
    coolers, begins = [plan.cooler], [0.0]
    if plan.counter_min > 0:
        counter = Cooler(name="Counter", kind=CoolerKind.COUNTER, air_c=plan.room_c)
        coolers, begins = [counter, plan.cooler], [0.0, 60.0 * plan.counter_min]
    places = tuple(faces_of(mold, wall, cooler) for cooler in coolers)
    return CoolingSetup(mold, wall, stuff, pour, places, tuple(begins), air)


def _check(plan: CoolPlan, pour: PourTemperature) -> None:
    if plan.cooler.kind is CoolerKind.ICE_BATH and not -5.0 <= plan.cooler.air_c <= 20.0:
        raise InputError(
            f"An ice bath at {plan.cooler.air_c:g} °C is not an ice bath.",
            field="air_c",
            hint="With ice left in it, it stays between 0 and 2 °C (32 and 36 °F).",
        )
    if pour.celsius < -1.0:
        raise InputError(
            f"Poured at {pour.celsius:g} °C it would be frozen already.",
            field="pour_c",
            hint="Give the temperature at which the batch goes into the molds.",
        )


def _property_c(start_c: float, air_c: float) -> float:
    cold = max(air_c, 0.0)
    return float(np.clip(cold + _PROPERTY_SHARE * (start_c - cold), 1.0, 95.0))


def _shifted(cooler: Cooler, by: float) -> float:
    """Return the air of a place moved by K; ice water gets no colder than freezing."""
    moved = cooler.air_c + by
    return max(moved, min(cooler.air_c, 0.0)) if cooler.kind is CoolerKind.ICE_BATH else moved


def _air_steps(air: Course, moved_in: float, side: float) -> tuple[list[float], list[float]]:
    """Return a course of the air as steps of its mean temperature."""
    start, end = float(air.seconds[0]), float(air.seconds[-1])
    # The air moves most at first.
    edges = max(start, 0.0) + (end - max(start, 0.0)) * np.linspace(0, 1, _AIR_STEPS + 1) ** 2
    end_c = air.high_c if side > 0 else air.low_c
    celsius = air.celsius + abs(side) * (end_c - air.celsius)
    middle = np.interp((edges[1:] + edges[:-1]) / 2.0, air.seconds, celsius)
    # After its last point the air stays.
    begins = [moved_in, *(moved_in + edges[1:]).tolist()]
    return begins, [*middle.tolist(), float(celsius[-1])]
