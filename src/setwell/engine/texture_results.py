"""What the engine says about the texture of one formula: typed, read-only results."""

from dataclasses import dataclass

from setwell.engine.verdict import Verdict
from setwell.provenance import Estimate, Evidence


@dataclass(frozen=True, slots=True)
class TextureNote:
    """What is known, or assumed, of some agents together."""

    agents: tuple[str, ...]
    text: str
    is_known: bool
    evidence: Evidence


@dataclass(frozen=True, slots=True)
class MapPoint:
    """A place on the texture map: strain [-], stress [kPa], doubts on the natural log axis.

    `strain_doubt` and `stress_doubt` are one standard deviation; `correlation` runs from 0 to 1.
    """

    strain: float
    stress: float
    strain_doubt: float
    stress_doubt: float
    correlation: float


@dataclass(frozen=True, slots=True)
class FlowPoint:
    """Apparent viscosity at one shear rate [1/s], in mPa·s."""

    shear_rate: float
    value: float
    low: float
    high: float


@dataclass(frozen=True, slots=True)
class Requirement:
    """Something a gel needs besides dose and cold, and what was found."""

    what: str
    need: str
    found: str
    verdict: Verdict


@dataclass(frozen=True, slots=True)
class ZoneShare:
    """How much of an agent dissolves in one zone of the pot, from 0 to 1."""

    zone: str
    share: float


@dataclass(frozen=True, slots=True)
class AgentGel:
    """What one agent's gel is like by itself, and what it needs."""

    sets_on: str
    fracture_stress_kpa: Estimate | None
    fracture_strain: Estimate | None
    other_set_c: Estimate | None
    other_set_name: str
    requirements: tuple[Requirement, ...]
    zones: tuple[ZoneShare, ...]
    # The kitchen's own measurements behind the numbers.
    readings: int


@dataclass(frozen=True, slots=True)
class Texture:
    """All agents together, in one sentence a cook would say and in numbers.

    Stiffness, stress, strain and viscosity hold at serving temperature. `region` is the trade
    word of the middle, `regions` all the range reaches. `melt_c` is None when there is no gel or
    it never melts; `melts` says which; `stands_c` is up to where half of the stiffness stands,
    `half_set_c` where half of it has set on cooling.
    `clarity` and `freezing` are words.
    """

    sentence: str
    sets: Verdict
    modulus_kpa: Estimate | None
    firmness: str
    words: tuple[str, ...]
    serving_c: float
    fracture_stress_kpa: Estimate | None = None
    fracture_strain: Estimate | None = None
    map_point: MapPoint | None = None
    region: str = ""
    regions: tuple[str, ...] = ()
    first_set_c: Estimate | None = None
    second_set_c: Estimate | None = None
    melt_c: Estimate | None = None
    stands_c: Estimate | None = None
    half_set_c: Estimate | None = None
    melts: str = ""
    melts_in_mouth: Verdict | None = None
    viscosity_mpa_s: Estimate | None = None
    flow: tuple[FlowPoint, ...] = ()
    flow_word: str = ""
    clarity: str = ""
    haze: Estimate | None = None
    weeps_pct: Estimate | None = None
    # Days in the fridge and the water given off by then, in percent of the gel.
    weeping: tuple[tuple[float, float], ...] = ()
    freezing: str = ""
    notes: tuple[TextureNote, ...] = ()
