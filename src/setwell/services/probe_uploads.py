"""A logger's file on its way to a log: kept, read, corrected; nothing sent is lost."""

import datetime as dt
import hashlib
from dataclasses import dataclass

from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.log_reading import LogReading, LogTable, log_decode, log_read
from setwell.domain.probe_log import PROBE_ERROR_C, ProbeLog, probe_log_make
from setwell.errors import DocumentError, InputError
from setwell.services.clock import now
from setwell.store.probe_log_rows import (
    StoredUpload,
    probe_row_add,
    upload_row,
    upload_row_add,
    upload_rows_drop,
)
from setwell.store.transactions import writing

__all__ = [
    "FILE_LIMIT",
    "ProbePreview",
    "StoredUpload",
    "probe_file_check",
    "probe_file_read",
    "probe_log_of",
    "probe_log_save",
    "probe_preview",
    "probe_upload_add",
]

# Five days of four probes at a sample each second fit.
FILE_LIMIT = 64_000_000
# Files that were sent and never saved are forgotten after this.
_KEPT = dt.timedelta(days=7)
_TITLE_LIMIT = 120
# What the preview shows of a file.
_SAMPLES_SHOWN, _LINES_SHOWN, _HEAD_LETTERS = 8, 25, 8_192


@dataclass(frozen=True, slots=True, eq=False)
class ProbePreview:
    """A file that waits, with how it reads; `problem` says why it does not."""

    upload: StoredUpload
    table: LogTable | None
    problem: InputError | None = None
    head_lines: tuple[str, ...] = ()

    @property
    def first_samples(self) -> tuple[tuple[float, tuple[float, ...]], ...]:
        """Seconds and °C of the first samples, as they would be saved."""
        if self.table is None:
            return ()
        table = self.table
        return tuple(
            (float(table.seconds[k]), tuple(float(one) for one in table.celsius[:, k]))
            for k in range(min(_SAMPLES_SHOWN, table.count))
        )


def probe_file_check(*, size: int, name: str = "") -> None:
    """Refuse a file by its size, before anything of it is read."""
    if size > FILE_LIMIT:
        raise DocumentError(
            f"{name or 'The file'} has {size / 1e6:,.0f} MB; at most {FILE_LIMIT / 1e6:.0f} MB can "
            "be read.",
            field="file",
            hint="Export fewer hours, or one sample each few seconds.",
        )
    if size == 0:
        raise DocumentError(
            f"{name or 'The file'} is empty.",
            field="file",
            hint="Export the log from the logger again, then send that file.",
        )


def probe_file_read(*, data: bytes, reading: LogReading | None = None) -> LogTable:
    """Return a file as read, without keeping anything."""
    probe_file_check(size=len(data))
    return log_read(data, reading)


def probe_upload_add(*, formula_id: int, number: int, file_name: str, data: bytes) -> int:
    """Keep a file while its reading is corrected and return its id; it must be text."""
    probe_file_check(size=len(data), name=file_name)
    # What is no text is refused at once: no setting makes a log of it.
    log_decode(data)
    moment = now()
    with writing():
        upload_rows_drop(before=moment - _KEPT)
        return upload_row_add(
            formula_id=formula_id, number=number, file_name=file_name, data=data,
            received_at=moment,
        )  # fmt: skip


def probe_preview(*, upload_id: int, reading: LogReading | None = None) -> ProbePreview:
    """Return a waiting file as it reads with these settings; nothing is saved."""
    upload = upload_row(row_id=upload_id)
    head = _head_lines(upload.data)
    try:
        return ProbePreview(upload, log_read(upload.data, reading), head_lines=head)
    except InputError as error:
        return ProbePreview(upload, None, error, head)


def _head_lines(data: bytes) -> tuple[str, ...]:
    """Return the first lines of a file as they stand."""
    lines = log_decode(data).text[:_HEAD_LETTERS].splitlines()
    return tuple(line[:200] for line in lines[:_LINES_SHOWN])


def probe_log_of(
    table: LogTable,
    *,
    title: str,
    data: bytes,
    file_name: str = "",
    probe_error_c: float = PROBE_ERROR_C,
    egg_in_s: float | None = None,
    note: str = "",
) -> ProbeLog:
    """Return the log of a table that was read; a file without a time needs its interval."""
    try:
        return probe_log_make(
            table,
            title=title.strip()[:_TITLE_LIMIT] or file_name[:_TITLE_LIMIT] or "Probe log",
            file_name=file_name,
            raw_sha256=hashlib.sha256(data).hexdigest(),
            probe_error_c=probe_error_c,
            egg_in_s=egg_in_s,
            note=note.strip(),
        )
    except ValidationError as error:
        raise document_error(error) from None


def probe_log_save(
    *,
    upload_id: int,
    reading: LogReading,
    title: str = "",
    probe_error_c: float = PROBE_ERROR_C,
    egg_in_s: float | None = None,
    note: str = "",
) -> int:
    """Save a waiting file as a log of its version and return the id of the log."""
    upload = upload_row(row_id=upload_id)
    document = probe_log_of(
        log_read(upload.data, reading),
        title=title, data=upload.data, file_name=upload.file_name,
        probe_error_c=probe_error_c, egg_in_s=egg_in_s, note=note,
    )  # fmt: skip
    with writing():
        log_id = probe_row_add(
            formula_id=upload.formula_id, number=upload.number, document=document,
            data=upload.data, recorded_at=now(),
        )  # fmt: skip
        upload_rows_drop(row_id=upload_id)
    return log_id
