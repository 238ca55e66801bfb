"""What an agent model is given and what it gives back."""

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import AcidPath, Kept
from setwell.engine.process import AgentPath, Process
from setwell.engine.spans import Spans
from setwell.engine.water_phase import WaterPhase
from setwell.provenance import Evidence, evidence_join

Array = NDArray[np.float64]
Codes = NDArray[np.int8]

YES, CANNOT_TELL, NO = np.int8(1), np.int8(0), np.int8(-1)
KELVIN = 273.15


@dataclass(frozen=True, slots=True)
class AgentInput:
    """One agent in n batches; doses in percent of the finished batch."""

    key: str
    dose_pct: Array
    active_pct: Array
    bloom: float | None
    water: WaterPhase
    water_share: Array
    salts: dict[str, Spans]
    path: AgentPath
    process: Process
    uneven_c: float
    has_enzyme: bool
    acid: AcidPath


@dataclass(frozen=True, slots=True)
class Origins:
    """Where each kind of number of an agent comes from."""

    hydration: Evidence = ()
    gelling: Evidence = ()
    setting: Evidence = ()
    melting: Evidence = ()
    strength: Evidence = ()
    acid: Evidence = ()

    @property
    def all(self) -> Evidence:
        """Every citation once."""
        return evidence_join(
            (self.hydration, self.gelling, self.setting, self.melting, self.strength, self.acid)
        )


@dataclass(frozen=True, slots=True)
class AgentState:
    """What the model says; temperatures in °C, modulus in Pa, viscosity in Pa·s.

    `hydrated` is the dissolved share, `kept` the share of its strength left after acid and heat,
    `effective_pct` the dose that still works. None stands for "no such thing for this agent".
    """

    hydrated: Spans
    hydrates: Codes
    kept: Kept
    effective_pct: Spans
    critical_pct: Spans | None
    sets: Codes
    set_c: Spans | None
    melt_c: Spans | None
    practice_set_c: Spans | None
    modulus: Spans | None
    viscosity: Spans | None
    is_extrapolated: NDArray[np.bool_]
    origins: Origins
    model: str
    is_modeled: bool = True

    @property
    def evidence(self) -> Evidence:
        """Everything the model rests on."""
        return self.origins.all


def effective_dose(active_pct: Array, hydrated: Spans, kept: Kept) -> Spans:
    """Return the dose that is dissolved and still whole."""
    share = kept.share
    return Spans(
        active_pct * np.nan_to_num(hydrated.value, nan=0.5) * share.value,
        active_pct * hydrated.low * share.low,
        active_pct * hydrated.high * share.high,
    )


def gel_forms(effective: Spans, critical: Spans, coldest_c: Array, set_c: Spans) -> Codes:
    """Return yes, no or cannot tell: enough agent, and cold enough for it to set."""
    # A dose right at the limit is the same dose in every batch size, whatever its last digit.
    most, least = critical.high * (1.0 - 1e-6), critical.low * (1.0 - 1e-6)
    enough = np.where(effective.low >= most, 1, np.where(effective.high < least, -1, 0))
    return np.minimum(enough, cold_enough(coldest_c, set_c)).astype(np.int8)


def cold_enough(coldest_c: Array, set_c: Spans) -> Codes:
    """Return yes, no or cannot tell: does it get below its setting temperature."""
    cold = np.where(coldest_c <= set_c.low, 1, np.where(coldest_c > set_c.high, -1, 0))
    return cold.astype(np.int8)


def modulus_spans(
    value: Array, low: Array, high: Array, *, log_half_widths: tuple[float, ...]
) -> Spans:
    """Return a modulus whose parameter ranges widen it, joined in quadrature on the log axis."""
    factor = float(np.exp(np.sqrt(sum(width**2 for width in log_half_widths))))
    return Spans(value, low / factor, high * factor)
