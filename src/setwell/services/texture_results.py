"""What readings of textures come to: typed, read-only."""

import datetime as dt
from collections.abc import Mapping
from dataclasses import dataclass, field

from setwell.engine.gelling.doubt import Correction, Corrections
from setwell.engine.lot_check_guide import GuideAnswer
from setwell.provenance import Estimate
from setwell.store.texture_reading_rows import StoredLotCheck
from setwell.units import date_print


@dataclass(frozen=True, slots=True)
class ReadingUse:
    """One reading beside what the model had computed, without any correction.

    `key` names it in disputes; `computed` has the unit of `measured`. A reading that is set
    aside, or that has no number to compare with, is not counted, and `remark` says why.
    """

    key: str
    id: int
    is_lot_check: bool
    title: str
    formula_id: int | None
    number: int | None
    kind: str
    measured: float | None
    computed: float | None
    unit: str
    lots: Mapping[str, str]
    taken_on: dt.date | None
    is_counted: bool
    is_disputed: bool
    contradicts: bool
    # Standard deviations from what the model and all other readings expect.
    deviations: float | None
    remark: str

    @property
    def words(self) -> str:
        """The reading in a few words, for a list of readings in conflict."""
        value = "" if self.measured is None else f" {self.measured:.4g} {self.unit}"
        where = self.title if self.number is None else f"{self.title}, version {self.number}"
        day = f", {date_print(self.taken_on)}" if self.taken_on else ""
        return f"{self.kind.replace('_', ' ')}{value} ({where}{day})"


@dataclass(frozen=True, slots=True)
class TextureDispute:
    """Readings that contradict each other, how far they are apart, and what to do about it."""

    readings: tuple[ReadingUse, ...]
    factor: float
    sentence: str
    action: str
    apart: str


@dataclass(frozen=True, slots=True)
class QuantityRow:
    """One quantity of one agent: before and after the kitchen's own measurements.

    `prior` and `posterior` are factors on the law, or shifts in K. `computed` and `calibrated`
    are the number itself without and with them, where the batch has one.
    """

    agent: str
    agent_name: str
    quantity: str
    label: str
    lot: str
    base: str
    prior: Estimate
    posterior: Estimate
    of_lot: int
    of_base: int
    is_disputed: bool
    readings: tuple[ReadingUse, ...]
    sentence: str
    computed: Estimate | None = None
    calibrated: Estimate | None = None

    @property
    def rests_on(self) -> str:
        """On how many readings it rests, of which lot and in which kind of base."""
        count = len(self.readings)
        plural = "" if count == 1 else "s"
        lot = f"of lot {self.lot}" if self.lot else "of no named lot"
        return (
            f"{count} own measurement{plural} ({self.of_lot} {lot}, "
            f"{self.of_base} in {self.base} bases)"
        )


@dataclass(frozen=True, slots=True)
class TextureCalibration:
    """Everything that this kitchen's readings say of one batch."""

    corrections: Mapping[str, Corrections] = field(default_factory=dict)
    readings: tuple[ReadingUse, ...] = ()
    disputes: tuple[TextureDispute, ...] = ()
    rows: tuple[QuantityRow, ...] = ()

    @property
    def is_empty(self) -> bool:
        """True when no reading moves anything."""
        return not self.corrections


@dataclass(frozen=True, slots=True)
class DoseAdvice:
    """How to make up for a weak or strong lot by its dose."""

    factor: float
    low: float
    high: float
    exponent: float
    is_exponent_known: bool
    sentence: str


@dataclass(frozen=True, slots=True)
class LotReport:
    """What is known of one lot: its strength against the tables and beside other lots.

    `rows` are the quantities of the standard test `test`, before and after; `of_lot` is how
    many readings of this very lot its strength rests on.
    """

    agent: str
    agent_name: str
    lot_code: str
    quantity: str
    against_tables: Correction | None
    beside_other_lots: Correction | None
    sentence: str
    beside_sentence: str
    advice: DoseAdvice | None
    flags: tuple[str, ...]
    checks: tuple[StoredLotCheck, ...]
    readings: tuple[ReadingUse, ...]
    disputes: tuple[TextureDispute, ...]
    last_answer: GuideAnswer | None
    test: str
    test_title: str
    of_lot: int
    rows: tuple[QuantityRow, ...]
