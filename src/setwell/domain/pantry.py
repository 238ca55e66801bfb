"""The kitchen's own things: foods, agents, lots, prices, equipment, readings, settings."""

import datetime as dt
from enum import StrEnum
from typing import Annotated, Any

from pydantic import Field, field_validator, model_validator

from setwell.domain.buying import Stocked
from setwell.domain.document import Document
from setwell.domain.equipment import (
    Cooler,
    Gap,
    Hob,
    Length,
    MoldForm,
    Thickness,
    WallMaterial,
)
from setwell.domain.fields import Acidity, Amount, Name, Note, PositiveAmount
from setwell.domain.mold_shapes import form_of, volume_by_lengths
from setwell.domain.reading import IngredientReading

# Seawater holds about 53 mmol of magnesium in a liter (common practice): no tap water comes near.
WaterSalt = Annotated[float, Field(ge=0, le=50, allow_inf_nan=False)]


class Answer(StrEnum):
    """Does it fit a diet?"""

    YES = "yes"
    NO = "no"
    CHECK = "check"


class OwnFood(Stocked):
    """A food of the kitchen's own, or an adjusted copy of a table food.

    `nutrients` are per 100 g under the names of the food table; a nutrient left out is
    unknown, or taken from `based_on` when that names a table food.
    """

    name: Name
    based_on: str = ""
    aliases: tuple[Name, ...] = ()
    nutrients: dict[str, Amount] = Field(default_factory=dict)
    density_g_ml: PositiveAmount | None = None
    each_g: PositiveAmount | None = None
    ph_low: Acidity | None = None
    ph: Acidity | None = None
    ph_high: Acidity | None = None
    allergens: tuple[str, ...] | None = None
    vegan: Answer | None = None
    vegetarian: Answer | None = None
    note: Note = ""

    @field_validator("nutrients")
    @classmethod
    def _no_more_than_the_food(cls, nutrients: dict[str, float]) -> dict[str, float]:
        for key, amount in nutrients.items():
            if key.endswith("_g") and amount > 100:
                raise ValueError(f"{key} is {amount:g} g in 100 g of food; at most 100 is possible")
        return dict(sorted(nutrients.items()))


class OwnAgent(Stocked):
    """A texture agent of the kitchen's own: a trade product based on one table agent."""

    name: Name
    based_on: Name
    aliases: tuple[Name, ...] = ()
    strength_factor: float = Field(default=1.0, gt=0, le=10, allow_inf_nan=False)
    bloom: float | None = Field(default=None, ge=30, le=400, allow_inf_nan=False)
    dose_low_pct: Amount | None = None
    dose_high_pct: Amount | None = None
    note: Note = ""


class Lot(Stocked):
    """One delivery of one agent, by its supplier lot."""

    agent: Name
    lot_code: Name
    strength_factor: float = Field(default=1.0, gt=0, le=10, allow_inf_nan=False)
    bloom: float | None = Field(default=None, ge=30, le=400, allow_inf_nan=False)
    molar_mass_kda: float | None = Field(default=None, ge=20, le=5000, allow_inf_nan=False)
    best_before: dt.date | None = None
    in_use: bool = False
    note: Note = ""


class Price(Stocked):
    """What a table food or table agent costs this kitchen; per kg, per pack or both."""

    material: Name


class Mold(Document):
    """A mold the kitchen owns; `shape` is in the kitchen's own words, lengths are inside."""

    name: Name
    shape: str = "other"
    volume_ml: PositiveAmount
    count: int = Field(default=1, ge=1, le=100_000)
    length_mm: Length | None = None
    width_mm: Length | None = None
    height_mm: Length | None = None
    diameter_mm: Length | None = None
    wall: WallMaterial | None = None
    wall_mm: Thickness | None = None
    headspace_mm: Gap = 0.0
    lid: bool = False
    note: Note = ""

    @model_validator(mode="before")
    @classmethod
    def _volume_by_lengths(cls, told: Any) -> Any:  # noqa: ANN401 - whatever was given
        """A mold told by its lengths alone holds what they say."""
        if not isinstance(told, dict) or told.get("volume_ml") is not None:
            return told
        held = volume_by_lengths(str(told.get("shape") or ""), told)
        given = {name: value for name, value in told.items() if name != "volume_ml"}
        return given if held is None else {**given, "volume_ml": held}

    def form(self) -> MoldForm:
        """Return the form that is computed; a plain volume where the dimensions do not say."""
        return form_of(
            self.shape,
            volume_ml=self.volume_ml,
            lengths={
                "length_mm": self.length_mm,
                "width_mm": self.width_mm,
                "height_mm": self.height_mm,
                "diameter_mm": self.diameter_mm,
            },
            wall=self.wall,
            wall_mm=self.wall_mm,
            headspace_mm=self.headspace_mm,
            lid=self.lid,
        )


class Vessel(Document):
    """A pot, pan, bowl or pitcher the kitchen owns."""

    name: Name
    volume_ml: PositiveAmount
    diameter_mm: Length | None = None
    height_mm: Length | None = None
    wall: WallMaterial | None = None
    lid: bool = False
    note: Note = ""


class WaterHardness(StrEnum):
    """How hard the kitchen's tap water is; the last one takes the minerals of the food table."""

    SOFT = "soft"
    MEDIUM = "medium"
    HARD = "hard"
    VERY_HARD = "very hard"
    TABLE = "as in the table"


class Kitchen(Document):
    """Settings of this kitchen; a mineral of the water left open comes from its hardness.

    `scale_most_g` is the heaviest load of the scale, `labor_per_hour` what an hour of work costs.
    """

    name: Name = "My test kitchen"
    currency: Annotated[str, Field(min_length=1, max_length=8)] = "USD"
    scale_readability_g: PositiveAmount = 0.1
    scale_most_g: PositiveAmount | None = None
    labor_per_hour: Amount | None = None
    water_hardness: WaterHardness = WaterHardness.MEDIUM
    water_calcium_mmol_l: WaterSalt | None = None
    water_magnesium_mmol_l: WaterSalt | None = None
    water_bicarbonate_mmol_l: WaterSalt | None = None


class Pantry(Document):
    """Everything the kitchen has of its own, as one value for the engine."""

    kitchen: Kitchen = Kitchen()
    foods: tuple[OwnFood, ...] = ()
    agents: tuple[OwnAgent, ...] = ()
    lots: tuple[Lot, ...] = ()
    prices: tuple[Price, ...] = ()
    molds: tuple[Mold, ...] = ()
    vessels: tuple[Vessel, ...] = ()
    hobs: tuple[Hob, ...] = ()
    coolers: tuple[Cooler, ...] = ()
    readings: tuple[IngredientReading, ...] = ()
