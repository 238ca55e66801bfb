"""Logs of probes for tests: our own invented files and courses."""

import datetime as dt

import numpy as np

from setwell.domain.log_reading import ProbePlace, log_read
from setwell.domain.probe_log import Probe, ProbeLog, probe_log_make, samples_pack

START = dt.datetime(2026, 11, 23, 8, 0, tzinfo=dt.UTC).replace(tzinfo=None)


def log_of(seconds, *readings, names=("Core", "Surface", "Bottom", "Top"), **fields):
    """Return a log of one to four probes."""
    celsius = np.array(readings, dtype=float)
    places = {"Core": ProbePlace.CORE, "Surface": ProbePlace.SURFACE, "Air": ProbePlace.AIR}
    return ProbeLog(
        title=fields.pop("title", "Batch"),
        probes=tuple(
            Probe(name=name, place=places.get(name, ProbePlace.FOOD))
            for name in names[: len(readings)]
        ),
        count=len(seconds),
        samples=samples_pack(np.asarray(seconds, dtype=float), celsius),
        **fields,
    )


def batch_course(step=10.0, *, hot=88.0, hold_min=12.0, cool_h=5.0, fridge=3.0):
    """Return seconds and °C of a pot that heats, holds and cools in the fridge."""
    up = np.arange(0, 1_200, step)
    hold = np.arange(0, 60 * hold_min, step)
    down = np.arange(0, 3_600 * cool_h, step)
    rate = 4.0 / (3_600 * cool_h) * 1.4
    celsius = np.concatenate(
        [
            20 + (hot - 20) * up / 1_200,
            np.full(len(hold), hot),
            fridge + (hot - fridge) * np.exp(-rate * down),
        ]
    )
    return np.arange(len(celsius)) * step, celsius


def file_of(seconds, *columns, head="Time,Core (°C),Surface (°C)", decimals=1):
    """Return a logger's CSV of these samples."""
    lines = [head]
    for place, second in enumerate(seconds):
        moment = START + dt.timedelta(seconds=float(second))
        cells = [f"{column[place]:.{decimals}f}" for column in columns]
        lines.append(",".join([moment.isoformat(sep=" "), *cells]))
    return "\n".join(lines) + "\n"


def log_of_file(text, **fields):
    """Return the log of a file as a kitchen would save it without correcting anything."""
    return probe_log_make(log_read(text), title=fields.pop("title", "Batch"), **fields)
