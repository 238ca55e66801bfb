"""What the kitchen measured of a set or thickened thing: of a version, or of a lot in a test."""

import datetime as dt
import math
from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from setwell.domain.document import CleanText, Document
from setwell.domain.fields import Name, Note
from setwell.domain.texture_values import (
    BLOOM_DEPTH_MM,
    BLOOM_PLUNGER_MM,
    LotTest,
    Outcome,
    PowderColor,
    PowderFlavor,
    TextureKind,
    depth_check,
    doubt_of,
    plunger_of,
    value_check,
    viscosity_check,
)

__all__ = [
    "LotCheck",
    "LotTest",
    "Outcome",
    "PowderColor",
    "PowderFlavor",
    "Taken",
    "TextureKind",
    "TextureReading",
]

ShortText = Annotated[CleanText, Field(max_length=120)]
Plunger = Annotated[float, Field(ge=2, le=80, allow_inf_nan=False)]
Depth = Annotated[float, Field(gt=0, le=60, allow_inf_nan=False)]
ShearRate = Annotated[float, Field(ge=0.1, le=1_000, allow_inf_nan=False)]


class Taken(Document):
    """When, how and by whom something was measured."""

    # Percent for loads and viscosities, K for temperatures; None is the usual doubt of the tool.
    plus_minus: float | None = Field(default=None, ge=0.1, le=200, allow_inf_nan=False)
    taken_on: dt.date | None = None
    # How warm the sample was, and how long ago it had been poured.
    temperature_c: float | None = Field(default=None, ge=-40, le=120, allow_inf_nan=False)
    hours: float | None = Field(default=None, ge=0, le=10_000, allow_inf_nan=False)
    taken_by: ShortText = ""
    note: Note = ""


class TextureReading(Taken):
    """One measurement of what was made from one saved version of a formula.

    `lots` names the lot of each agent, by the agent's key; an empty text is an unnamed lot.
    """

    kind: TextureKind
    plunger_mm: Plunger = BLOOM_PLUNGER_MM
    value: float | None = Field(default=None, allow_inf_nan=False, validate_default=True)
    depth_mm: Depth | None = Field(default=None, validate_default=True)
    shear_rate_per_s: ShearRate | None = Field(default=None, validate_default=True)
    outcome: Outcome | None = Field(default=None, validate_default=True)
    word: ShortText = Field(default="", validate_default=True)
    lots: dict[str, ShortText] = Field(default_factory=dict)

    @field_validator("value")
    @classmethod
    def _value_is_possible(cls, value: float | None, info: ValidationInfo) -> float | None:
        kind = info.data.get("kind")
        if kind is not None:
            value_check(kind, value, plunger_mm=info.data.get("plunger_mm", BLOOM_PLUNGER_MM))
        return value

    @field_validator("depth_mm")
    @classmethod
    def _depth_is_shallow(cls, depth: float | None, info: ValidationInfo) -> float | None:
        if info.data.get("kind") is TextureKind.FIRMNESS_PRESS:
            depth_check(depth, plunger_mm=info.data.get("plunger_mm", BLOOM_PLUNGER_MM))
        return depth

    @field_validator("shear_rate_per_s")
    @classmethod
    def _rate_is_known(cls, rate: float | None, info: ValidationInfo) -> float | None:
        if info.data.get("kind") is TextureKind.VISCOSITY:
            viscosity_check(rate, info.data.get("temperature_c"))
        return rate

    @field_validator("outcome")
    @classmethod
    def _outcome_is_said(cls, outcome: Outcome | None, info: ValidationInfo) -> Outcome | None:
        if info.data.get("kind") is TextureKind.OUTCOME and outcome is None:
            raise ValueError("say what happened: set, spread, did not set, thickened, stayed thin")
        return outcome

    @field_validator("word")
    @classmethod
    def _word_is_said(cls, word: str, info: ValidationInfo) -> str:
        if info.data.get("kind") is TextureKind.WORD and not word.strip():
            raise ValueError("choose the word that fits the texture best")
        return word.strip()

    @property
    def doubt(self) -> float:
        """What the reading repeats to: percent of a load or viscosity, K of a temperature."""
        return doubt_of(self.kind, self.plus_minus)


class LotCheck(Taken):
    """A lot of an agent in a standard test; `values` are repeats, in g or in mPa·s."""

    agent: Name
    lot_code: ShortText = ""
    kind: LotTest
    dose_pct: float | None = Field(default=None, gt=0, le=40, allow_inf_nan=False)
    plunger_mm: Plunger | None = None
    depth_mm: Depth | None = None
    shear_rate_per_s: ShearRate | None = Field(default=None, validate_default=True)
    outcome: Outcome | None = None
    values: tuple[float, ...] = Field(default=(), max_length=12, validate_default=True)
    color: PowderColor | None = None
    flavor: PowderFlavor | None = None

    @field_validator("values")
    @classmethod
    def _values_are_possible(
        cls, values: tuple[float, ...], info: ValidationInfo
    ) -> tuple[float, ...]:
        test = info.data.get("kind")
        if test is None:
            return values
        if test is LotTest.POWDER_CONTROL:
            if info.data.get("outcome") is None:
                raise ValueError("say whether the control cup set, spread or did not set")
            return values
        if not values and info.data.get("outcome") is None:
            raise ValueError("give at least one reading, or say that it did not set")
        plunger = plunger_of(test, info.data.get("plunger_mm"))
        for value in values:
            value_check(test.measures, value, plunger_mm=plunger)
        return values

    @field_validator("shear_rate_per_s")
    @classmethod
    def _rate_is_known(cls, rate: float | None, info: ValidationInfo) -> float | None:
        if info.data.get("kind") is LotTest.WATER_VISCOSITY:
            viscosity_check(rate, info.data.get("temperature_c"))
        return rate

    @property
    def doubt(self) -> float:
        """What one reading repeats to, in percent."""
        return doubt_of(self.kind.measures, self.plus_minus)

    @property
    def plunger(self) -> float:
        """Diameter of the plunger in mm, the test's own where none was given."""
        return plunger_of(self.kind, self.plunger_mm)

    @property
    def depth(self) -> float:
        """Depth of the press in mm, the test's own where none was given."""
        return BLOOM_DEPTH_MM if self.depth_mm is None else self.depth_mm

    @property
    def value(self) -> float | None:
        """The readings as one: their geometric mean, for errors here are ratios."""
        if len(self.values) <= 1:
            return self.values[0] if self.values else None
        return math.exp(sum(math.log(value) for value in self.values) / len(self.values))
