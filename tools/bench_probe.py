"""Measure how fast a long probe log is read, cleaned and judged.

The log is a file of 100,000 lines with four probes, one sample a second: as text, from its bytes to
its verdicts, with spikes, a gap and a stretch without numbers in it.
"""

import datetime as dt
import time
from collections.abc import Callable

import numpy as np

from setwell.domain.formula import formula_make
from setwell.domain.log_reading import log_read
from setwell.domain.probe_log import probe_log_make
from setwell.engine.assess import bench_build
from setwell.engine.probe.cleaning import log_clean
from setwell.engine.probe.judging import log_judge

Row = tuple[str, str, bool]
LINES, PROBES, MOST_S = 100_000, 4, 2.0
START = dt.datetime(2026, 11, 23, 8, 0)  # noqa: DTZ001 - as a logger writes it
REPEATS = 3


def log_text(mark: str = ",", point: str = ".", form: str = "%Y-%m-%d %H:%M:%S") -> bytes:
    """Return a logger's file of a batch that heats, holds and cools overnight."""
    rng = np.random.default_rng(7)
    second = np.arange(LINES)
    core = np.where(
        second < 3_000,
        20 + 68 * second / 3_000,
        np.where(second < 4_500, 88.0, 4 + 84 * np.exp(-(second - 4_500) / 6_000)),
    )
    celsius = core + np.arange(PROBES)[:, None] / 2 + rng.normal(0, 0.15, (PROBES, LINES))
    celsius[0, rng.integers(0, LINES, 50)] = 150.0
    head = mark.join(["Time", *(f"Probe {n} (°C)" for n in range(1, PROBES + 1))])
    lines = [head]
    for place in range(LINES):
        if 60_000 <= place < 60_200:
            continue
        cells = [f"{value:.1f}".replace(".", point) for value in celsius[:, place]]
        if 70_000 <= place < 70_100:
            cells[1] = "---"
        moment = START + dt.timedelta(seconds=place)
        lines.append(mark.join([moment.strftime(form), *cells]))
    return "\n".join(lines).encode()


def probe_rows() -> list[Row]:
    """Return (what, measured, whether it is fast enough) for each way of writing the file."""
    bench = bench_build(
        formula_make(
            title="Set custard",
            ingredients="500 g whole milk\n100 g egg yolk\n60 g sugar\n4 g kappa carrageenan",
            steps="Heat to 88 °C and hold 10 min",
        )
    )
    files = {
        "ISO time, commas": log_text(),
        "day first, decimal comma": log_text(";", ",", "%d.%m.%Y %H:%M:%S"),
        "month first, AM and PM": log_text("\t", ".", "%m/%d/%Y %I:%M:%S %p"),
    }
    rows = [_row(name, lambda data=data: _whole(data, bench)) for name, data in files.items()]
    log = probe_log_make(log_read(files["ISO time, commas"]), title="Bench")
    rows.append(_row("cleaning alone", lambda: log_clean(log)))
    rows.append(_row("cleaning and judging", lambda: log_judge(log, bench)))
    return rows


def _whole(data: bytes, bench: object) -> None:
    log_judge(probe_log_make(log_read(data), title="Bench"), bench)  # type: ignore[arg-type]


def _row(name: str, work: Callable[[], object]) -> Row:
    best = min(_seconds(work) for _ in range(REPEATS))
    what = f"Probe log, {LINES:,} lines, {PROBES} probes: {name}"
    return what, f"{best:.2f} s (at most {MOST_S:.0f} s)", best < MOST_S


def _seconds(work: Callable[[], object]) -> float:
    begin = time.perf_counter()
    work()
    return time.perf_counter() - begin


if __name__ == "__main__":
    for what, measured, is_fast in probe_rows():
        print(f"{what:<72} {measured}  {'ok' if is_fast else 'TOO SLOW'}")  # noqa: T201
