"""Probe logs, their files and samples, between database rows and domain documents."""

import datetime as dt
import zlib
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import Count, Model, OuterRef, QuerySet, Subquery

from setwell.domain.probe_log import ProbeLog
from setwell.errors import NotFoundError
from setwell.store.rows import (
    ProbeLogRow,
    ProbeRulingRow,
    ProbeSampleRow,
    ProbeUploadRow,
    VersionRow,
)

# Quick rather than small: a log of ten megabytes packs in a blink, to a tenth of that.
_LEVEL = 1


@dataclass(frozen=True, slots=True)
class StoredProbeLog:
    """One log, the version it belongs to, how many samples were typed, and whether it counts."""

    id: int
    formula_id: int
    number: int
    content_hash: str
    version_title: str
    document: ProbeLog
    recorded_at: dt.datetime
    typed: int
    counts: bool
    reason: str


@dataclass(frozen=True, slots=True)
class StoredUpload:
    """A file that waits to become a log."""

    id: int
    formula_id: int
    number: int
    file_name: str
    data: bytes
    received_at: dt.datetime


@dataclass(frozen=True, slots=True)
class TypedSample:
    """One reading as it was typed; no temperature strikes the one of that second."""

    id: int
    probe: int
    seconds: float
    celsius: float | None
    recorded_at: dt.datetime


def upload_row_add(
    *, formula_id: int, number: int, file_name: str, data: bytes, received_at: dt.datetime
) -> int:
    """Keep a file for now and return its id."""
    row = ProbeUploadRow.objects.create(
        version=_version(formula_id, number),
        file_name=file_name[:200],
        raw=zlib.compress(data, _LEVEL),
        received_at=received_at,
    )
    return int(row.pk)


def upload_row(*, row_id: int) -> StoredUpload:
    """Return a file that waits."""
    row = ProbeUploadRow.objects.select_related("version").filter(pk=row_id).first()
    if row is None:
        raise NotFoundError(
            f"There is no uploaded file {row_id} any more.",
            hint="Files that were not saved as a log are kept for a week. Send it again.",
        )
    return StoredUpload(
        row.pk, row.version.formula_id, row.version.number, row.file_name,
        zlib.decompress(bytes(row.raw)), row.received_at,
    )  # fmt: skip


def upload_rows_drop(*, row_id: int | None = None, before: dt.datetime | None = None) -> None:
    """Forget a file that became a log, or all that wait since before a moment."""
    if row_id is not None:
        ProbeUploadRow.objects.filter(pk=row_id).delete()
    if before is not None:
        ProbeUploadRow.objects.filter(received_at__lt=before).delete()


def probe_row_add(
    *, formula_id: int, number: int, document: ProbeLog, data: bytes, recorded_at: dt.datetime
) -> int:
    """Write a log of one version with its file and return its id."""
    row = ProbeLogRow.objects.create(
        version=_version(formula_id, number),
        title=document.title,
        document=document.canonical_json(),
        raw=zlib.compress(data, _LEVEL) if data else b"",
        recorded_at=recorded_at,
    )
    return int(row.pk)


def probe_row(*, row_id: int) -> StoredProbeLog:
    """Return one log."""
    found = _stored(ProbeLogRow.objects.filter(pk=row_id))
    if not found:
        raise NotFoundError(f"There is no probe log {row_id} in this kitchen.")
    return found[0]


def probe_rows(*, formula_id: int | None = None) -> tuple[StoredProbeLog, ...]:
    """Return the logs of one formula or of all, the newest first."""
    rows = ProbeLogRow.objects.all()
    return _stored(rows if formula_id is None else rows.filter(version__formula__id=formula_id))


def probe_raw(*, row_id: int) -> bytes:
    """Return the file of a log as it was sent; nothing for a log typed by hand."""
    packed = ProbeLogRow.objects.filter(pk=row_id).values_list("raw", flat=True).first()
    if packed is None:
        raise NotFoundError(f"There is no probe log {row_id} in this kitchen.")
    return zlib.decompress(bytes(packed)) if packed else b""


def sample_rows_add(
    *, log_id: int, samples: Iterable[tuple[int, float, float | None]], recorded_at: dt.datetime
) -> None:
    """Write typed readings: probe by its place from 0, second, °C or None."""
    ProbeSampleRow.objects.bulk_create(
        ProbeSampleRow(
            log_id=log_id, probe=probe, seconds=seconds, celsius=celsius, recorded_at=recorded_at
        )
        for probe, seconds, celsius in samples
    )


def sample_rows(*, log_id: int) -> tuple[TypedSample, ...]:
    """Return the typed readings of a log in the order they came."""
    rows = ProbeSampleRow.objects.filter(log_id=log_id).order_by("pk")
    values = rows.values_list("pk", "probe", "seconds", "celsius", "recorded_at")
    return tuple(TypedSample(*row) for row in values)


def probe_ruling_add(*, row_id: int, counts: bool, reason: str, recorded_at: dt.datetime) -> None:
    """Write whether a log counts from now on."""
    ProbeRulingRow.objects.create(
        log_id=row_id, counts=counts, reason=reason, recorded_at=recorded_at
    )


def _version(formula_id: int, number: int) -> VersionRow:
    # Through the formula's own key: numbers no database holds then find nothing, and no error.
    version = VersionRow.objects.filter(formula__id=formula_id, number=number).only("pk").first()
    if version is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    return version


def _newest(table: type[Model], field: str) -> Subquery:
    of_this = table._default_manager.filter(log_id=OuterRef("pk"))
    return Subquery(of_this.order_by("-recorded_at", "-pk").values(field)[:1])


def _stored(rows: QuerySet[ProbeLogRow]) -> tuple[StoredProbeLog, ...]:
    values = (
        rows.annotate(
            typed=Count("samples"),
            counts=_newest(ProbeRulingRow, "counts"),
            reason=_newest(ProbeRulingRow, "reason"),
        )
        .order_by("-recorded_at", "-pk")
        .values_list(
            "pk", "version__formula_id", "version__number", "version__content_hash",
            "version__title", "document", "recorded_at", "typed", "counts", "reason",
        )
    )  # fmt: skip
    return tuple(
        StoredProbeLog(
            *row[:5], ProbeLog.model_validate_json(row[5]), row[6], row[7],
            row[8] is not False, row[9] or "",
        )
        for row in values
    )  # fmt: skip
