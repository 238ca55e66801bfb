"""What an agent model is given and what it gives back."""

from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from typing import NamedTuple

import numpy as np
from numpy.typing import NDArray

from setwell.engine.gelling.acid import AcidPath, Kept
from setwell.engine.gelling.doubt import LawDoubt
from setwell.engine.history import History
from setwell.engine.pot_course import PotCourse
from setwell.engine.pot_zones import PotLags
from setwell.engine.process import AgentPath, Process
from setwell.engine.spans import Spans
from setwell.engine.water_phase import WaterPhase
from setwell.provenance import Evidence, evidence_join

Array = NDArray[np.float64]
Codes = NDArray[np.int8]

YES, CANNOT_TELL, NO = np.int8(1), np.int8(0), np.int8(-1)
KELVIN = 273.15
# Shear rates of every flow curve, three to the decade [1/s].
SHEAR_RATES: Array = np.geomspace(0.1, 1000.0, 13)
# Shear of slow stirring and of the mouth, at which thickness is quoted [1/s].
STIRRING_RATE = 50.0


_NO_DOUBT = LawDoubt()


class SetsOn(StrEnum):
    """What makes an agent set."""

    COOLING = "cooling"
    HEATING = "heating"
    IONS = "ions"
    NOTHING = "nothing"


class Paces(NamedTuple):
    """The temperature of the pot from the moment an agent enters: middling, slow, quick kitchen."""

    middle: History
    slow: History
    quick: History


@dataclass(frozen=True, slots=True)
class AgentInput:
    """One agent in n batches; doses in percent of the finished batch."""

    key: str
    dose_pct: Array
    active_pct: Array
    bloom: float | None
    water: WaterPhase
    water_share: Array
    fat_share: Array
    salts: dict[str, Spans]
    path: AgentPath
    process: Process
    heat: Paces
    serving_c: Array
    lags: PotLags
    has_enzyme: bool
    acid: AcidPath
    # The computed pot, where a plan tells of one; it then stands for the lags.
    pot: PotCourse | None = None
    # How much hotter than written each candidate's pot is, and the log of how much longer [K, -].
    hotter_k: Array | None = None
    longer_log: Array | None = None


@dataclass(frozen=True, slots=True)
class Origins:
    """Where each kind of number of an agent comes from."""

    hydration: Evidence = ()
    gelling: Evidence = ()
    setting: Evidence = ()
    melting: Evidence = ()
    strength: Evidence = ()
    fracture: Evidence = ()
    flow: Evidence = ()
    look: Evidence = ()
    acid: Evidence = ()

    @property
    def all(self) -> Evidence:
        """Every citation once."""
        return evidence_join(
            (
                self.hydration, self.gelling, self.setting, self.melting, self.strength,
                self.fracture, self.flow, self.look, self.acid,
            )
        )  # fmt: skip


@dataclass(frozen=True, slots=True)
class Gel:
    """A gel at the reference temperature of its law, or at serving once the state is finished.

    `modulus` is the shear modulus at small strain [Pa], `fracture_stress` the true stress at
    break under uniaxial compression [Pa], `fracture_strain` the Hencky strain there [-].
    """

    modulus: Spans
    fracture_stress: Spans
    fracture_strain: Spans


@dataclass(frozen=True, slots=True)
class Flow:
    """How a liquid flows at serving temperature [Pa·s].

    `added` is what the agents add to the viscosity at `rates` [1/s], each part (n, g); `base` the
    liquid without them, (n,). A curve of a single rate tells of that rate only.
    """

    added: Spans
    base: Array
    rates: Array = field(default_factory=lambda: SHEAR_RATES)

    @property
    def viscosity(self) -> Spans:
        """The apparent viscosity at `rates`, each part (n, g)."""
        return Spans(*(self.base[:, None] + part for part in self.added))

    def at(self, shear_rate: float) -> Spans:
        """Return the apparent viscosity at one shear rate [1/s] between the curve's ends."""
        if len(self.rates) == 1:
            return Spans(*(part[:, 0] for part in self.viscosity))
        logs = np.log(self.rates)
        place = float(np.interp(np.log(shear_rate), logs, np.arange(len(logs))))
        left = min(int(place), len(logs) - 2)
        part = place - left
        return Spans(
            *(
                np.exp((1.0 - part) * np.log(v[:, left]) + part * np.log(v[:, left + 1]))
                for v in self.viscosity
            )
        )


class Condition(NamedTuple):
    """Something besides dose and cold that a gel needs, such as solids, pH or an ion."""

    what: str
    holds: Codes
    found: Spans
    unit: str
    need: str


class OtherLaw(NamedTuple):
    """The same quantity by another published form, offered beside the first."""

    name: str
    set_c: Spans


@dataclass(frozen=True, slots=True)
class Working:
    """How much of a powder works in n batches.

    `hydrated` is the dissolved share, `zones` that of the bottom, the middle and the top of the
    pot, (3, n), `kept` the share of its strength left after acid and heat, `effective_pct` the
    dose that counts. `evidence` is where the dissolving comes from.
    """

    hydrated: Spans
    zones: Array
    hydrates: Codes
    kept: Kept
    effective_pct: Spans
    evidence: Evidence


@dataclass(frozen=True, slots=True, kw_only=True)
class AgentState:
    """What the model says; temperatures in °C.

    `working` is how much of the powder counts, `haze` 0 (clear) to 1 (opaque), `weeps_pct` the
    water given off in a week in the fridge in percent of the gel, `frozen` whether it comes
    through freezing. None stands for "no such thing for this agent". Spans carry the doubt of
    the inputs; `doubt` carries that of the laws until `finish` joins the two.
    """

    key: str
    working: Working
    model: str
    critical_pct: Spans | None = None
    conditions: tuple[Condition, ...] = ()
    # Filled by `finish`, from dose, cold and conditions.
    sets: Codes = field(default_factory=lambda: np.zeros(0, dtype=np.int8))
    sets_on: SetsOn = SetsOn.COOLING
    set_c: Spans | None = None
    melt_c: Spans | None = None
    practice_set_c: Spans | None = None
    other_set: OtherLaw | None = None
    gel: Gel | None = None
    # The gel of another working dose in percent; how a helper that does not gel itself counts.
    gel_at: Callable[[Spans], Gel] | None = None
    # The verdict for another working dose; filled by `finish`.
    sets_at: Callable[[Spans], Codes] | None = None
    # Where the gel's numbers hold before `finish` takes them to the serving temperature [°C].
    reference_c: float = 20.0
    flow: Flow | None = None
    # The flow of another working dose in percent; how a partner that thickens along counts.
    flow_at: Callable[[Spans], Flow] | None = None
    haze: Spans | None = None
    weeps_pct: Spans | None = None
    frozen: Codes | None = None
    doubt: LawDoubt = _NO_DOUBT
    is_extrapolated: NDArray[np.bool_]
    origins: Origins
    # On how many of the kitchen's own measurements the numbers rest.
    readings: int = 0

    @property
    def hydrated(self) -> Spans:
        """The dissolved share."""
        return self.working.hydrated

    @property
    def hydrates(self) -> Codes:
        """Whether enough of it dissolves to count on the written dose."""
        return self.working.hydrates

    @property
    def kept(self) -> Kept:
        """The share of its strength left after acid and heat."""
        return self.working.kept

    @property
    def effective_pct(self) -> Spans:
        """The dose that works, in percent of the batch."""
        return self.working.effective_pct

    @property
    def modulus(self) -> Spans | None:
        """The shear modulus [Pa]."""
        return None if self.gel is None else self.gel.modulus

    @property
    def evidence(self) -> Evidence:
        """Everything the model rests on."""
        return self.origins.all
