# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""Probe logs of saved versions: list, read, type in at the bench, set aside, export."""

from collections.abc import Mapping

import numpy as np
from pydantic import ValidationError

from setwell.domain.document import document_error
from setwell.domain.probe_log import PROBE_ERROR_C, Probe, ProbeLog, samples_pack
from setwell.engine.probe.cleaning import log_clean
from setwell.engine.probe.results import CleanLog, Flag
from setwell.engine.probe.sample_flags import COLDEST_C, HOTTEST_C
from setwell.errors import ConflictError, InputError, NotFoundError, OutOfRangeError
from setwell.services.clock import now
from setwell.services.csv_text import sheet_write
from setwell.store.probe_log_rows import (
    StoredProbeLog,
    TypedSample,
    probe_raw,
    probe_row,
    probe_row_add,
    probe_rows,
    probe_ruling_add,
    sample_rows,
    sample_rows_add,
)
from setwell.store.transactions import writing
from setwell.units import date_print, temperature_print

__all__ = [
    "StoredProbeLog",
    "TypedSample",
    "probe_log_clean_csv",
    "probe_log_get",
    "probe_log_list",
    "probe_log_raw",
    "probe_log_rule",
    "probe_log_start",
    "probe_sample_add",
    "probe_sample_strike",
    "probe_samples",
]

REASON_LIMIT = 2_000
# A batch that is typed in ends within some days [s].
_LONGEST_S = 10 * 86_400.0
_FLAG_WORDS = {
    Flag.NO_NUMBER: "no number",
    Flag.NO_TIME: "no time",
    Flag.BACKWARD: "out of order",
    Flag.DUPLICATE: "same time",
    Flag.SPIKE: "spike",
    Flag.OUT_OF_RANGE: "out of range",
}


def probe_log_list(*, formula_id: int | None = None) -> tuple[StoredProbeLog, ...]:
    """Return the logs of a formula or of all, the newest first, those set aside too."""
    return probe_rows(formula_id=formula_id)


def probe_log_get(*, id: int) -> StoredProbeLog:
    """Return one log; of one that is typed in, with all samples up to now."""
    stored = probe_row(row_id=id)
    if not stored.document.is_by_hand:
        return stored
    document = _with_samples(stored.document, sample_rows(log_id=id))
    return StoredProbeLog(
        **{name: getattr(stored, name) for name in StoredProbeLog.__slots__ if name != "document"},
        document=document,
    )


def probe_log_start(
    *,
    formula_id: int,
    number: int,
    title: str,
    probes: tuple[Probe, ...],
    probe_error_c: float = PROBE_ERROR_C,
    note: str = "",
) -> int:
    """Start a log that is typed in at the bench and return its id."""
    moment = now()
    here = moment.astimezone()
    try:
        document = ProbeLog(
            title=title.strip() or f"Typed in {date_print(here)}, {here:%H:%M}",
            probes=probes,
            probe_error_c=probe_error_c,
            started=moment.astimezone().isoformat(sep=" ", timespec="seconds")[:19],
            is_by_hand=True,
            note=note.strip(),
        )
    except ValidationError as error:
        raise document_error(error) from None
    with writing():
        return probe_row_add(
            formula_id=formula_id, number=number, document=document, data=b"", recorded_at=moment
        )


def probe_sample_add(
    *, id: int, celsius: Mapping[int, float], seconds: float | None = None
) -> float:
    """Write readings by the place of the probe from 0, now or at a second; return that second."""
    stored, moment = _live(id), now()
    if not celsius:
        raise InputError(
            "There is no reading to write down.",
            field="celsius",
            hint="Type what the probe shows, such as 85 or 185 °F.",
        )
    for place, value in celsius.items():
        if not 0 <= place < len(stored.document.probes):
            raise NotFoundError(f"Log {id} has no probe {place + 1}.")
        _checked(value, stored.document.probes[place].name)
    at = (moment - stored.recorded_at).total_seconds() if seconds is None else seconds
    if not 0 <= at <= _LONGEST_S:
        raise OutOfRangeError(
            f"{at / 60:,.0f} min after the start is not possible here: from 0 to "
            f"{_LONGEST_S / 60:,.0f} min.",
            field="minutes",
        )
    at = round(at, 3)
    samples = [(place, at, float(value)) for place, value in celsius.items()]
    with writing():
        sample_rows_add(log_id=id, samples=samples, recorded_at=moment)
    return at


def probe_sample_strike(*, id: int, sample: int) -> None:
    """Strike one typed reading: it stays in the records and counts no longer."""
    _live(id)
    found = next((one for one in sample_rows(log_id=id) if one.id == sample), None)
    if found is None:
        raise NotFoundError(f"There is no sample {sample} in log {id}.")
    with writing():
        sample_rows_add(log_id=id, samples=[(found.probe, found.seconds, None)], recorded_at=now())


def probe_samples(*, id: int) -> tuple[TypedSample, ...]:
    """Return the typed readings that count, in the order of time."""
    standing: dict[tuple[int, float], TypedSample] = {}
    for one in sample_rows(log_id=id):
        standing[one.probe, one.seconds] = one
    counted = [one for one in standing.values() if one.celsius is not None]
    return tuple(sorted(counted, key=lambda one: (one.seconds, one.probe)))


def probe_log_rule(*, id: int, counts: bool, reason: str = "") -> None:
    """Set a log aside with a reason, or let it count again; nothing is deleted."""
    stored, given = probe_row(row_id=id), reason.strip()
    if stored.counts is counts:
        raise ConflictError(
            f"Log {id} counts already." if counts else f"Log {id} is already set aside."
        )
    if not counts and not given:
        raise InputError(
            "Say why the log is set aside.",
            field="reason",
            hint="For example: the probe had slipped out of the pot.",
        )
    if len(given) > REASON_LIMIT:
        raise InputError(
            f"The reason has {len(given):,} characters; at most {REASON_LIMIT:,} fit.",
            field="reason",
        )
    with writing():
        probe_ruling_add(row_id=id, counts=counts, reason=given, recorded_at=now())


def probe_log_raw(*, id: int) -> bytes:
    """Return the file as it was sent; of a typed log every reading as CSV, struck ones too."""
    stored = probe_row(row_id=id)
    if not stored.document.is_by_hand:
        return probe_raw(row_id=id)
    names = [probe.name for probe in stored.document.probes]
    rows = [
        (names[one.probe], repr(one.seconds), "" if one.celsius is None else repr(one.celsius),
         one.recorded_at.isoformat())
        for one in sample_rows(log_id=id)
    ]  # fmt: skip
    return sheet_write([("probe", "seconds", "celsius", "recorded_at"), *rows]).encode()


def probe_log_clean_csv(*, id: int) -> str:
    """Return a log as CSV: every sample as read, as it counts, and why it does not."""
    document = probe_log_get(id=id).document
    return clean_csv(log_clean(document))


def clean_csv(clean: CleanLog) -> str:
    """Return a cleaned log as CSV text, in the order of the file."""
    head = ["seconds"]
    columns = [_texts(clean.seconds)]
    for probe, raw in zip(clean.probes, clean.celsius, strict=True):
        head += [f"{probe.name} raw (°C)", f"{probe.name} (°C)", f"{probe.name} flags"]
        kept = np.where(probe.flags == 0, raw, np.nan)
        words = {int(code): _flag_words(int(code)) for code in np.unique(probe.flags)}
        columns += [_texts(raw), _texts(kept), [words[code] for code in probe.flags.tolist()]]
    # Only numbers and our own words stand below the head: no cell needs a guard.
    lines = [",".join(cells) for cells in zip(*columns, strict=True)]
    return sheet_write([head]) + "".join(f"{line}\n" for line in lines)


def _texts(values: np.ndarray[tuple[int], np.dtype[np.float64]]) -> list[str]:
    return ["" if value != value else f"{value:.10g}" for value in values.tolist()]  # noqa: PLR0124 - NaN


def _flag_words(code: int) -> str:
    return "; ".join(word for flag, word in _FLAG_WORDS.items() if code & flag)


def _checked(value: float, name: str) -> None:
    if not COLDEST_C <= value <= HOTTEST_C:
        raise OutOfRangeError(
            f"{name}: {value:g} °C is not possible: from "
            f"{temperature_print(COLDEST_C)} to {temperature_print(HOTTEST_C)}.",
            field="celsius",
        )


def _live(id: int) -> StoredProbeLog:
    stored = probe_row(row_id=id)
    if not stored.document.is_by_hand:
        raise ConflictError(
            f"Log {id} is that of a file; nothing can be typed into it.",
            hint="Start a log of your own for readings by hand.",
        )
    return stored


def _with_samples(document: ProbeLog, typed: tuple[TypedSample, ...]) -> ProbeLog:
    """Return a log with its typed readings: one row for each second, the last word counts."""
    standing = {(one.probe, one.seconds): one.celsius for one in typed}
    moments = sorted({second for (_, second), value in standing.items() if value is not None})
    if not moments:
        return document
    column = {second: place for place, second in enumerate(moments)}
    celsius = np.full((len(document.probes), len(moments)), np.nan)
    for (probe, second), value in standing.items():
        if value is not None:
            celsius[probe, column[second]] = value
    packed = samples_pack(np.array(moments), celsius)
    return document.model_copy(update={"count": len(moments), "samples": packed})
