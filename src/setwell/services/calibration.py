"""Which pH counts for a formula: measured, moved by an earlier reading, or computed."""

from dataclasses import dataclass
from functools import lru_cache

from setwell.domain.formula import Formula
from setwell.engine.assess import bench_build
from setwell.engine.material import Span
from setwell.errors import InputError
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.readings import measured_ph, measured_ph_before
from setwell.services.revision import pantry_revision
from setwell.store.formula_rows import version_row

# Above any version number: every saved version is earlier than what is being written.
_AFTER_ALL = 10**9
_CACHED = 128


@dataclass(frozen=True, slots=True)
class Calibration:
    """The pH measured of a formula, or how far an earlier version was measured off.

    At most one of the two is there: a reading needs no moving.
    """

    measured: Span | None = None
    offset: float = 0.0

    @property
    def is_measured(self) -> bool:
        """True when this very content was measured."""
        return self.measured is not None

    @property
    def is_moved(self) -> bool:
        """True when an earlier version was measured instead."""
        return self.offset != 0.0


def calibration_for(
    *, formula: Formula, formula_id: int | None = None, number: int | None = None
) -> Calibration:
    """Return what readings say of a formula; the one rule for pages, cards and commands.

    A reading on this very content wins. Otherwise the newest measured version of formula
    `formula_id` before version `number` moves the computed pH by as much as it was measured
    off; without a number, every saved version is earlier. Without a formula_id the text
    belongs to no version and stays computed.
    """
    measured = _measured(formula)
    if measured is not None or formula_id is None:
        return Calibration(measured)
    return Calibration(offset=_offset(formula_id, _AFTER_ALL if number is None else number))


def _measured(formula: Formula) -> Span | None:
    reading = measured_ph(content_hash=formula.content_hash)
    if reading is None:
        return None
    low, high = reading.ph - reading.plus_minus, reading.ph + reading.plus_minus
    return Span(reading.ph, max(low, 0.0), min(high, 14.0))


def _offset(formula_id: int, number: int) -> float:
    before = measured_ph_before(formula_id=formula_id, number=number)
    if before is None:
        return 0.0
    earlier, reading = before
    computed = _computed(version_row(formula_id=formula_id, number=earlier)[1])
    return 0.0 if computed is None else reading.ph - computed


def _computed(formula: Formula) -> float | None:
    """Return the computed pH of an earlier version; None where there is none to speak of."""
    try:
        return _computed_at(pantry_revision(), _Batch(formula, parts_for(formula)))
    except InputError:
        # A version too long to be read says nothing of the next one.
        return None


class _Batch:
    """A formula with the formulas it uses, told apart by what they hold."""

    def __init__(self, formula: Formula, parts: dict[str, Formula]) -> None:
        self.formula, self.parts = formula, parts
        hashes = sorted((title, part.content_hash) for title, part in parts.items())
        self._key = (formula.content_hash, tuple(hashes))

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Batch) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)


@lru_cache(maxsize=_CACHED)
def _computed_at(revision: str, batch: _Batch) -> float | None:  # noqa: ARG001 - part of the key
    bench = bench_build(batch.formula, catalog=kitchen_catalog(), parts=batch.parts)
    acids = bench.state.water.acidity
    return float(acids.ph.value[0]) if acids.is_solved[0] else None
