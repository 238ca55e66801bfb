"""Every reading of the kitchen beside what the engine computes for it, uncorrected."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from functools import lru_cache

from setwell.domain.texture_reading import LotTest
from setwell.engine.assess import bench_build
from setwell.engine.batch_marks import lots_of
from setwell.engine.lot_check import OWN_CUP, family_of, line_name, lot_test_formula
from setwell.engine.material import Span
from setwell.engine.texture_observations import (
    Compared,
    compare_reading,
    measured_of,
    measured_of_check,
)
from setwell.engine.word_places import WordRegion, word_regions
from setwell.errors import InputError
from setwell.services.materials import kitchen_catalog
from setwell.services.parts import parts_for
from setwell.services.readings import measured_ph
from setwell.services.revision import pantry_revision
from setwell.services.texture_materials import catalog_with_lots
from setwell.store.formula_rows import version_row
from setwell.store.texture_reading_rows import (
    StoredLotCheck,
    StoredTextureReading,
    hashes_with_ph,
    lot_check_rows,
    texture_rows,
)

_CACHED = 4096
_BY_EYE = "Judged by eye: this cup has a recipe of its own, which the model does not compute."
_UNREADABLE = "The model cannot read this version, so there is no number to compare with."

Regions = Mapping[str, WordRegion]


@dataclass(frozen=True, slots=True)
class Beside:
    """A stored reading and the model beside it."""

    stored: StoredTextureReading | StoredLotCheck
    compared: Compared

    @property
    def key(self) -> str:
        """A name that no other reading of this kitchen has."""
        return key_of(self.stored)

    @property
    def agents(self) -> frozenset[str]:
        """Keys of the agents that the reading speaks of."""
        return agents_of(self.stored)


def key_of(stored: StoredTextureReading | StoredLotCheck) -> str:
    """Return the name of a reading: numbers are padded, so that names sort by age."""
    kind = "lot" if isinstance(stored, StoredLotCheck) else "version"
    return f"{kind}:{stored.id:09d}"


def agents_of(stored: StoredTextureReading | StoredLotCheck) -> frozenset[str]:
    """Return the agents that were in what was measured."""
    if isinstance(stored, StoredLotCheck):
        return frozenset({stored.agent})
    return frozenset(stored.document.lots)


def readings_beside(agents: Iterable[str], *, regions: Regions | None = None) -> tuple[Beside, ...]:
    """Return every reading that bears on these agents, directly or by a blend with others."""
    rows: list[StoredTextureReading | StoredLotCheck] = [*texture_rows(), *lot_check_rows()]
    reach, size = set(agents), -1
    while len(reach) > size:
        size = len(reach)
        reach |= {key for row in rows if agents_of(row) & reach for key in agents_of(row)}
    revision = pantry_revision()
    places = word_regions() if regions is None else regions
    acidity = {one: ph_span(one) for one in hashes_with_ph() & _contents(rows)}
    return tuple(
        Beside(row, _compared(row, revision, acidity, places))
        for row in rows
        if agents_of(row) & reach
    )


def _contents(rows: Iterable[StoredTextureReading | StoredLotCheck]) -> set[str]:
    return {row.content_hash for row in rows if isinstance(row, StoredTextureReading)}


def _compared(
    row: StoredTextureReading | StoredLotCheck,
    revision: str,
    acidity: Mapping[str, Span | None],
    regions: Regions,
) -> Compared:
    if isinstance(row, StoredLotCheck):
        return _check_compared(revision, _Key(key_of(row), row))
    region = regions.get(row.document.word)
    return _reading_compared(
        revision, _Key(key_of(row), row), acidity.get(row.content_hash), region
    )


def ph_span(content_hash: str) -> Span | None:
    """Return the pH measured of this content, with its range."""
    reading = measured_ph(content_hash=content_hash)
    if reading is None:
        return None
    low, high = reading.ph - reading.plus_minus, reading.ph + reading.plus_minus
    return Span(reading.ph, max(low, 0.0), min(high, 14.0))


class _Key:
    """A stored reading, told apart by its name alone: it was written once."""

    def __init__(self, key: str, row: StoredTextureReading | StoredLotCheck) -> None:
        # A name counts from one again in another database, so the moment belongs to it.
        self.row, self._key = row, (key, row.recorded_at)

    def __eq__(self, other: object) -> bool:
        return isinstance(other, _Key) and self._key == other._key

    def __hash__(self) -> int:
        return hash(self._key)


@lru_cache(maxsize=_CACHED)
def _reading_compared(
    revision: str,  # noqa: ARG001 - part of the key
    key: _Key,
    ph: Span | None,
    region: WordRegion | None,
) -> Compared:
    row = key.row
    if not isinstance(row, StoredTextureReading):
        raise TypeError("a lot check has no version")
    _, formula = version_row(formula_id=row.formula_id, number=row.number)
    reading = row.document
    try:
        # Judged as warm as the sample was.
        if reading.temperature_c is not None and not reading.kind.is_temperature:
            formula = formula.revised(serving_temperature_c=reading.temperature_c)
        bench = bench_build(
            formula,
            catalog=catalog_with_lots(reading.lots),
            parts=parts_for(formula) if formula.parts else {},
            measured_ph=ph,
        )
    except InputError:
        return Compared((), remark=_UNREADABLE)
    return compare_reading(
        measured_of(reading),
        bench,
        key=key_of(row),
        lots=lots_of(bench) | reading.lots,
        region=region,
    )


@lru_cache(maxsize=_CACHED)
def _check_compared(revision: str, key: _Key) -> Compared:  # noqa: ARG001 - part of the key
    row = key.row
    if not isinstance(row, StoredLotCheck):
        raise TypeError("a reading of a version is no lot check")
    check = row.document
    if check.kind is LotTest.POWDER_CONTROL and family_of(row.agent) in OWN_CUP:
        return Compared((), remark=_BY_EYE)
    lots = {row.agent: lot_of_check(row)}
    catalog = catalog_with_lots(lots)
    own = catalog.materials.get(f"own:{check.agent.casefold()}")
    try:
        test = lot_test_formula(
            row.agent,
            check.kind,
            dose_pct=check.dose_pct,
            name=line_name(row.agent) if own is None else own.name,
            serving_c=check.temperature_c,
        )
        bench = bench_build(test.formula, catalog=catalog)
    except InputError as problem:
        return Compared((), remark=str(problem))
    return compare_reading(measured_of_check(check), bench, key=key_of(row), lots=lots)


def lot_of_check(row: StoredLotCheck) -> str:
    """Return the lot of a check as readings of versions name it."""
    return lot_named(row.document.agent, row.document.lot_code)


def lot_named(agent: str, lot_code: str) -> str:
    """Return how a lot is told apart: by its code, with the name of an own trade product."""
    own = kitchen_catalog().materials.get(f"own:{agent.casefold()}")
    if own is None:
        return lot_code
    return " · ".join(part for part in (own.name, lot_code) if part)
