"""What a pH meter said: of an ingredient, or of a saved version of a formula."""

import datetime as dt
from typing import Annotated

from pydantic import Field

from setwell.domain.document import CleanText, Document
from setwell.domain.fields import Acidity, Name, Note

# A pocket meter that was calibrated the same day repeats to about this (common practice).
METER_PLUS_MINUS = 0.05

PlusMinus = Annotated[float, Field(ge=0.01, le=1, allow_inf_nan=False)]
ReadingTemperature = Annotated[float, Field(ge=-40, le=120, allow_inf_nan=False)]


class IngredientReading(Document):
    """The pH of one food, by its supplier lot; `material` is the name a kitchen line uses."""

    material: Name
    ph: Acidity
    plus_minus: PlusMinus = METER_PLUS_MINUS
    lot_code: Annotated[CleanText, Field(max_length=120)] = ""
    taken_on: dt.date | None = None
    temperature_c: ReadingTemperature | None = None
    in_use: bool = True
    note: Note = ""


class VersionReading(Document):
    """The pH of what was made from one saved version of a formula."""

    ph: Acidity
    plus_minus: PlusMinus = METER_PLUS_MINUS
    taken_on: dt.date | None = None
    temperature_c: ReadingTemperature | None = None
    note: Note = ""


class MeanReading(VersionReading):
    """Several readings of the same content as one: their mean, and how far apart they are."""

    # Readings may lie farther apart than any meter is unsure.
    plus_minus: float = Field(ge=0.01, le=7, allow_inf_nan=False)
    count: int = Field(ge=1)


def readings_mean(readings: tuple[VersionReading, ...]) -> MeanReading | None:
    """Return the mean of readings, never surer than their spread or the least sure of them.

    One reading is returned as it was taken.
    """
    if not readings:
        return None
    mean = sum(one.ph for one in readings) / len(readings)
    days = [one.taken_on for one in readings if one.taken_on is not None]
    temperatures = {one.temperature_c for one in readings}
    notes = {one.note for one in readings}
    unsure = [one.plus_minus for one in readings]
    if len(readings) > 1:
        unsure += [METER_PLUS_MINUS, *(abs(one.ph - mean) for one in readings)]
    return MeanReading(
        ph=mean,
        plus_minus=max(unsure),
        taken_on=max(days, default=None),
        temperature_c=temperatures.pop() if len(temperatures) == 1 else None,
        note=notes.pop() if len(notes) == 1 else "",
        count=len(readings),
    )
