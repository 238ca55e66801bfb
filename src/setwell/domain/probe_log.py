"""A probe's log of one batch: who measured where, when and what, as it was read."""

import base64
import binascii
import hashlib
import zlib
from typing import Annotated, Self

import numpy as np
from numpy.typing import NDArray
from pydantic import Field, model_validator

from setwell.domain.document import CleanText, Document
from setwell.domain.fields import Name, Note
from setwell.domain.log_reading import LogDoubt, LogReading, LogTable, ProbePlace, log_read
from setwell.domain.log_reading.settings import MOST_COLUMNS
from setwell.errors import InputError

Array = NDArray[np.float64]

# Thermometers for food scaled in °C must be right to this (Food Code 4-203.11).
PROBE_ERROR_C = 1.0
# Samples are kept in thousandths of a second and of a degree, finer than any logger writes.
_STEPS = 1_000.0
_FARTHEST = 1e12
_MOST_SAMPLES = 1_000_000
# Egg goes into a pot within some days of the first sample [s].
_LONGEST_S = 10 * 86_400.0


class Probe(Document):
    """One probe: a name, and where in the batch it sat."""

    name: Annotated[CleanText, Field(min_length=1, max_length=80)]
    place: ProbePlace = ProbePlace.FOOD
    # True where neither the file nor a person has told the unit.
    is_unit_guessed: bool = False


class ProbeLog(Document):
    """What the probes showed, raw as it was read: nothing is sorted, cut or smoothed.

    `samples` packs the times and the readings; `table` unpacks them. `started` is the moment of
    the first sample where the file tells it. `read_by` keeps every setting of the reading, and
    `remarks` what was in doubt then. `doubts` are guesses that nobody confirmed: a verdict that
    they would change is none. Heat before `egg_in_s` cooks no egg.
    """

    title: Name
    probes: Annotated[tuple[Probe, ...], Field(min_length=1, max_length=MOST_COLUMNS)]
    count: Annotated[int, Field(ge=0, le=_MOST_SAMPLES)] = 0
    samples: str = ""
    probe_error_c: Annotated[float, Field(ge=0, le=20, allow_inf_nan=False)] = PROBE_ERROR_C
    started: Annotated[CleanText, Field(max_length=40)] = ""
    file_name: Annotated[CleanText, Field(max_length=200)] = ""
    raw_sha256: Annotated[str, Field(pattern="^([0-9a-f]{64})?$")] = ""
    is_by_hand: bool = False
    read_by: LogReading | None = None
    remarks: tuple[CleanText, ...] = ()
    doubts: tuple[LogDoubt, ...] = ()
    egg_in_s: Annotated[float, Field(ge=0, le=_LONGEST_S, allow_inf_nan=False)] | None = None
    note: Note = ""

    @model_validator(mode="after")
    def _samples_are_whole(self) -> Self:
        names = [probe.name for probe in self.probes]
        if len(set(names)) < len(names):
            twice = next(name for name in names if names.count(name) > 1)
            raise ValueError(f"two probes are called “{twice}”; give each a name of its own")
        if self.count:
            samples_unpack(self.samples, len(names) + 1, self.count)
        return self

    @property
    def table(self) -> tuple[Array, Array]:
        """Seconds (n,) and °C (p, n), NaN where there is no reading."""
        columns = len(self.probes) + 1
        if not self.count:
            return np.zeros(0), np.zeros((columns - 1, 0))
        values = samples_unpack(self.samples, columns, self.count)
        return values[0], values[1:]


def probe_log_make(
    table: LogTable,
    *,
    title: str,
    file_name: str = "",
    raw_sha256: str = "",
    probe_error_c: float = PROBE_ERROR_C,
    egg_in_s: float | None = None,
    note: str = "",
) -> ProbeLog:
    """Return the log of a file that was read; equal names of probes are numbered.

    Raises InputError for a file without a time whose interval was not told.
    """
    if table.needs_interval:
        raise InputError(
            "The file has no time, so the seconds between two samples are needed.",
            field="interval_s",
            hint="The logger's manual or its display tells the interval.",
        )
    egg_checked(table.seconds, egg_in_s)
    guessed = table.guessed_units
    names = _distinct([probe.name for probe in table.probes])
    return ProbeLog(
        title=title,
        probes=tuple(
            Probe(name=name, place=probe.place, is_unit_guessed=probe.column in guessed)
            for name, probe in zip(names, table.probes, strict=True)
        ),
        count=table.count,
        samples=samples_pack(table.seconds, table.celsius),
        probe_error_c=probe_error_c,
        started=table.started,
        file_name=file_name[:200],
        raw_sha256=raw_sha256,
        read_by=table.reading,
        remarks=tuple(remark.text for remark in table.notes),
        doubts=table.doubts,
        egg_in_s=egg_in_s,
        note=note,
    )


def egg_checked(seconds: Array, egg_in_s: float | None) -> None:
    """Refuse a moment for the egg that lies outside of a log."""
    known = seconds[np.isfinite(seconds)]
    end = float(known.max()) if len(known) else 0.0
    if egg_in_s is not None and not 0.0 <= egg_in_s < end:
        raise InputError(
            f"The egg cannot have gone in after {egg_in_s / 60.0:g} min: the log runs from 0 to "
            f"{end / 60.0:g} min.",
            field="egg_in",
            hint="Count the minutes from the first sample of the log.",
        )


def probe_log_read(
    data: bytes | str,
    *,
    title: str = "Probe log",
    reading: LogReading | None = None,
    file_name: str = "",
    probe_error_c: float = PROBE_ERROR_C,
    note: str = "",
) -> ProbeLog:
    """Return the log in a logger's file; settings that `reading` leaves open are guessed.

    >>> log = probe_log_read("Time,Core (°C)\\n0:00:00,20.5\\n0:00:10,21\\n", title="Run 7")
    >>> log.table[0].tolist(), log.table[1].tolist()
    ([0.0, 10.0], [[20.5, 21.0]])
    """
    raw = data if isinstance(data, bytes) else data.encode("utf-8", errors="replace")
    return probe_log_make(
        log_read(data, reading),
        title=title,
        file_name=file_name,
        raw_sha256=hashlib.sha256(raw).hexdigest(),
        probe_error_c=probe_error_c,
        note=note,
    )


def _distinct(names: list[str]) -> list[str]:
    taken: set[str] = set()
    for place, name in enumerate(names):
        number, own = 2, name
        while own in taken:
            own, number = f"{name[:70]} ({number})", number + 1
        taken.add(own)
        names[place] = own
    return names


def samples_pack(seconds: Array, celsius: Array) -> str:
    """Return times (n,) and readings (p, n) as text; differences pack far smaller than numbers."""
    table = np.vstack([seconds[None, :], celsius])
    # What is so far off is no time and no temperature, and has no whole number of thousandths.
    is_known = np.abs(np.nan_to_num(table, nan=np.inf)) <= _FARTHEST
    table = np.where(is_known, table, 0.0) * _STEPS
    whole = np.round(table).astype(np.int64)
    steps = np.diff(whole, axis=1, prepend=0).astype("<i8")
    mask = np.packbits(is_known, axis=1).tobytes()
    return base64.b64encode(zlib.compress(steps.tobytes() + mask, 1)).decode("ascii")


def samples_unpack(samples: str, columns: int, count: int) -> Array:
    """Return the numbers again, (columns, count), or raise ValueError where some are missing."""
    size, mask_size = columns * count * 8, columns * -(-count // 8)
    try:
        packed = base64.b64decode(samples, validate=True)
        # No more than is expected: a short text can unpack to any length.
        data = zlib.decompressobj().decompress(packed, size + mask_size + 1)
    except (zlib.error, binascii.Error, ValueError):
        raise ValueError("the samples cannot be unpacked") from None
    if len(data) != size + mask_size:
        raise ValueError(f"the samples are not those of {count} lines and {columns} columns")
    steps = np.frombuffer(data, dtype="<i8", count=columns * count).reshape(columns, count)
    bits = np.frombuffer(data, dtype=np.uint8, offset=size).reshape(columns, -1)
    is_known = np.unpackbits(bits, axis=1, count=count).astype(bool)
    return np.where(is_known, np.cumsum(steps, axis=1) / _STEPS, np.nan)
