"""How a formula is heated and cooled in this kitchen: what the steps alone do not tell."""

from enum import StrEnum
from typing import Annotated

from pydantic import Field

from setwell.domain.document import Document
from setwell.domain.equipment import Cooler, Hob, Length, MoldForm, Temperature, WallMaterial
from setwell.domain.fields import PositiveAmount

# No kitchen is colder or hotter [°C].
Room = Annotated[float, Field(ge=0, le=50, allow_inf_nan=False)]


class PotStirring(StrEnum):
    """How the pot is kept moving while it heats."""

    NONE = "none"
    OCCASIONAL = "now and then"
    CONSTANT = "constant"
    BLENDER = "blender"
    CIRCULATOR = "immersion circulator"
    STEAM = "steam"


class PotPlan(Document):
    """A pot on a hob. What is left out comes from the formula and its steps.

    `hob.power_w` is used until the base reads `target_c`, then it is throttled to hold it.
    """

    hob: Hob = Hob(name="Hob")
    diameter_mm: Length = 200.0
    height_mm: Length | None = None
    wall: WallMaterial = WallMaterial.STEEL
    lid: bool = False
    stirring: PotStirring = PotStirring.OCCASIONAL
    batch_g: PositiveAmount | None = None
    start_c: Temperature = 20.0
    target_c: Temperature | None = None
    hold_min: Annotated[float, Field(ge=0, le=1_440, allow_inf_nan=False)] | None = None
    room_c: Room = 20.0


class CoolPlan(Document):
    """Molds poured and put somewhere cold. What is left out comes from the formula."""

    mold: MoldForm
    cooler: Cooler = Cooler(name="Fridge")
    count: Annotated[int, Field(ge=1, le=10_000)] = 1
    pour_c: Temperature | None = None
    # Minutes on the counter before the molds go in.
    counter_min: Annotated[float, Field(ge=0, le=1_440, allow_inf_nan=False)] = 0.0
    room_c: Room = 20.0
    serving_c: Temperature | None = None


class ProcessPlan(Document):
    """Both together, as a kitchen saves them with a version of a formula."""

    pot: PotPlan | None = None
    cooling: CoolPlan | None = None
