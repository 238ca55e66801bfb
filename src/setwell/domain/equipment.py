"""Hobs, pots, molds and cold places: what a process needs to know of them."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, model_validator

from setwell.domain.document import Document
from setwell.domain.fields import Name, Note, PositiveAmount

# A mold or a pot longer than this stands in no kitchen [mm].
LONGEST_MM = 2_000.0
Length = Annotated[float, Field(gt=0, le=LONGEST_MM, allow_inf_nan=False)]
Gap = Annotated[float, Field(ge=0, le=200, allow_inf_nan=False)]
Thickness = Annotated[float, Field(gt=0, le=50, allow_inf_nan=False)]
Temperature = Annotated[float, Field(ge=-60, le=130, allow_inf_nan=False)]
SurfaceCoefficient = Annotated[float, Field(ge=1, le=2_000, allow_inf_nan=False)]


class HobKind(StrEnum):
    """What heats the pot."""

    INDUCTION = "induction"
    ELECTRIC = "electric"
    GAS = "gas"
    STEAM = "steam"


class CoolerKind(StrEnum):
    """Where a mold gets cold."""

    FRIDGE = "fridge"
    VENTILATED_FRIDGE = "ventilated fridge"
    BLAST_CHILLER = "blast chiller"
    ICE_BATH = "ice bath"
    FREEZER = "freezer"
    COUNTER = "counter"


class MoldShape(StrEnum):
    """Shapes that are computed; any other mold is read as a cylinder as high as wide."""

    TRAY = "tray"
    BLOCK = "block"
    CUP = "cup"
    JAR = "jar"
    SPHERE = "sphere"
    HEMISPHERE = "hemisphere"
    OTHER = "other"


class WallMaterial(StrEnum):
    """What a mold or a pot is made of."""

    GLASS = "glass"
    BOROSILICATE = "borosilicate glass"
    STEEL = "stainless steel"
    CARBON_STEEL = "carbon steel"
    CAST_IRON = "cast iron"
    ALUMINUM = "aluminum"
    COPPER = "copper"
    SILICONE = "silicone"
    POLYPROPYLENE = "polypropylene"
    POLYCARBONATE = "polycarbonate"
    PET = "PET"
    HDPE = "HDPE"
    POLYSTYRENE = "polystyrene"
    FOAM = "foamed polystyrene"
    PORCELAIN = "porcelain"
    STONEWARE = "stoneware"
    PAPERBOARD = "paperboard"


class Hob(Document):
    """A hob, ring or steam jacket the kitchen heats pots with.

    `efficiency` is the share of the power that reaches the food; left out, it is that of the
    kind. `measured` says from which log of the kitchen's own it was fitted.
    """

    name: Name
    kind: HobKind = HobKind.INDUCTION
    power_w: Annotated[float, Field(ge=50, le=50_000, allow_inf_nan=False)] = 2_000.0
    efficiency: Annotated[float, Field(gt=0.02, le=1, allow_inf_nan=False)] | None = None
    efficiency_low: Annotated[float, Field(gt=0.02, le=1, allow_inf_nan=False)] | None = None
    efficiency_high: Annotated[float, Field(gt=0.02, le=1, allow_inf_nan=False)] | None = None
    measured: Note = ""
    note: Note = ""


class Cooler(Document):
    """A fridge, blast chiller, ice bath, freezer or counter.

    `coefficient_w_m2k` is the heat passed from the surface of a mold per degree; left out, it is
    computed for the kind. `cooling_w` is what the machine takes out of its air at most.
    """

    name: Name
    kind: CoolerKind = CoolerKind.FRIDGE
    air_c: Temperature = 4.0
    coefficient_w_m2k: SurfaceCoefficient | None = None
    coefficient_low: SurfaceCoefficient | None = None
    coefficient_high: SurfaceCoefficient | None = None
    inside_l: PositiveAmount | None = None
    cooling_w: PositiveAmount | None = None
    measured: Note = ""
    note: Note = ""


class MoldForm(Document):
    """The form of one mold, by its inner dimensions.

    `tray` and `block` have length, width and height; `cup` and `jar` diameter and height (the
    height of the food, headspace not counted); `sphere` and `hemisphere` a diameter. A tray
    stands on its base and is open above; a block is cooled all around. `other` has a volume only.
    """

    shape: MoldShape = MoldShape.OTHER
    volume_ml: PositiveAmount | None = None
    length_mm: Length | None = None
    width_mm: Length | None = None
    height_mm: Length | None = None
    diameter_mm: Length | None = None
    wall: WallMaterial | None = None
    wall_mm: Thickness | None = None
    headspace_mm: Gap = 0.0
    lid: bool = False

    @model_validator(mode="after")
    def _dimensions_fit_the_shape(self) -> Self:
        missing = [name for name in NEEDED[self.shape] if getattr(self, name) is None]
        # A known volume stands in for one missing height.
        if missing == ["height_mm"] and self.volume_ml is not None:
            return self
        if missing:
            wanted = " and ".join(name.removesuffix("_mm").removesuffix("_ml") for name in missing)
            raise ValueError(f"a {self.shape.value} needs its {wanted}")
        return self


NEEDED: dict[MoldShape, tuple[str, ...]] = {
    MoldShape.TRAY: ("length_mm", "width_mm", "height_mm"),
    MoldShape.BLOCK: ("length_mm", "width_mm", "height_mm"),
    MoldShape.CUP: ("diameter_mm", "height_mm"),
    MoldShape.JAR: ("diameter_mm", "height_mm"),
    MoldShape.SPHERE: ("diameter_mm",),
    MoldShape.HEMISPHERE: ("diameter_mm",),
    MoldShape.OTHER: ("volume_ml",),
}
