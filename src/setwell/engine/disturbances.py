"""What differs between the candidates of a batch besides their weights: kitchens and lots."""

from collections.abc import Mapping
from dataclasses import dataclass, field, replace

import numpy as np
from numpy.typing import NDArray

from setwell.engine.process import Process
from setwell.engine.spans import Spans
from setwell.engine.water_phase import WaterPhase

Array = NDArray[np.float64]


@dataclass(frozen=True, slots=True)
class Disturbances:
    """How each of n candidates departs from the formula as written, each (n,).

    `strength` are factors on the active dose by agent. The pot is `hotter_k` hotter than the
    steps say, and every time in it longer by the factor exp(`longer_log`). `added_mmol` comes to
    the metals of the water [mmol/kg], after their own amount times `metal_factor`. `ph` is added
    to the pH, `milk_protein` a factor. Serving and the coldest moment are so many K warmer.
    """

    hotter_k: Array
    longer_log: Array
    ph: Array
    milk_protein: Array
    coldest_k: Array
    serving_k: Array
    strength: Mapping[str, Array] = field(default_factory=dict)
    metal_factor: Mapping[str, Array] = field(default_factory=dict)
    added_mmol: Mapping[str, Array] = field(default_factory=dict)

    @classmethod
    def none(cls, count: int) -> "Disturbances":
        """Return no disturbance at all."""
        zero = np.zeros(count)
        return cls(zero, zero, zero, np.ones(count), zero, zero)

    def active(self, agent: str, dose_pct: Array) -> Array:
        """Return the active dose of an agent in other lots."""
        return dose_pct * self.strength.get(agent, 1.0)

    def process(self, process: Process) -> Process:
        """Return the process as hot and as cold as it is in each kitchen."""
        return replace(
            process,
            coldest_c=process.coldest_c + self.coldest_k,
            agents={
                key: replace(path, peak_c=path.peak_c + self.hotter_k)
                for key, path in process.agents.items()
            },
        )

    def metals(self, amounts: Mapping[str, Spans]) -> dict[str, Spans]:
        """Return amounts of metals with what other foods and other water bring."""
        return {
            metal: _moved(spans, self.metal_factor.get(metal), self.added_mmol.get(metal))
            for metal, spans in amounts.items()
        }

    def water(self, water: WaterPhase) -> WaterPhase:
        """Return the water phase with other minerals, another pH and other milk."""
        free = water.free
        return replace(
            water,
            ions=self.metals(water.ions),
            free=replace(
                free, metals=self.metals(free.metals), dissolved=self.metals(free.dissolved)
            ),
            ph=Spans(*(np.clip(part + self.ph, 0.0, 14.0) for part in water.ph)),
            milk_protein_share=water.milk_protein_share * self.milk_protein,
        )


def _moved(spans: Spans, factor: Array | None, added: Array | None) -> Spans:
    if factor is None and added is None:
        return spans
    by, more = 1.0 if factor is None else factor, 0.0 if added is None else added
    return Spans(*(np.maximum(part * by + more, 0.0) for part in spans))
