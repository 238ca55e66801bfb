"""A kitchen that is not ours: what it can weigh, measure and keep even."""

from enum import StrEnum
from typing import Annotated, Self

from pydantic import Field, ValidationError, model_validator

from setwell.domain.document import Document, document_error
from setwell.domain.fields import Name

# The coarsest scale anyone bakes with, and the finest that stands in a laboratory [g].
FINEST_G, COARSEST_G = 0.0001, 50.0
Readability = Annotated[float, Field(ge=FINEST_G, le=COARSEST_G, allow_inf_nan=False)]
ThermometerError = Annotated[float, Field(ge=0, le=20, allow_inf_nan=False)]
Celsius = Annotated[float, Field(ge=-5, le=20, allow_inf_nan=False)]
Hardness = Annotated[float, Field(ge=0, le=10, allow_inf_nan=False)]


class Care(StrEnum):
    """How evenly a pot is stirred and how exactly times are kept."""

    CARELESS = "careless"
    USUAL = "usual"
    CAREFUL = "careful"


class KitchenProfile(Document):
    """Kitchens of one sort.

    `scale_g` is the readability of the scale; `thermometer_error_k` what about 95 % of the
    thermometers stay within, None where heat is judged by eye. The tap water holds between
    `water_low` and `water_high` mmol/L of calcium and magnesium together; the fridge keeps
    between `fridge_low_c` and `fridge_high_c`.
    """

    name: Name
    scale_g: Readability = 1.0
    thermometer_error_k: ThermometerError | None = None
    care: Care = Care.USUAL
    water_low: Hardness = 0.4
    water_high: Hardness = 3.6
    fridge_low_c: Celsius = 2.0
    fridge_high_c: Celsius = 8.0

    @model_validator(mode="after")
    def _ends_in_order(self) -> Self:
        if self.water_low > self.water_high:
            raise ValueError("the softest water is harder than the hardest; swap the two")
        if self.fridge_low_c > self.fridge_high_c:
            raise ValueError("the coldest fridge is warmer than the warmest; swap the two")
        return self

    @property
    def has_thermometer(self) -> bool:
        """True when heat is measured and not judged by eye."""
        return self.thermometer_error_k is not None


def profile_make(**fields: object) -> KitchenProfile:
    """Return a profile from loose fields, or say which field is wrong and why."""
    try:
        return KitchenProfile.model_validate(fields)
    except ValidationError as error:
        raise document_error(error) from None


HOME = KitchenProfile(name="home")
PRO = KitchenProfile(
    name="pro",
    scale_g=0.1,
    thermometer_error_k=1.0,
    care=Care.CAREFUL,
    fridge_low_c=1.0,
    fridge_high_c=5.0,
)
LAB = KitchenProfile(
    name="lab",
    scale_g=0.01,
    thermometer_error_k=0.5,
    care=Care.CAREFUL,
    water_low=0.0,
    water_high=0.0,
    fridge_low_c=3.0,
    fridge_high_c=5.0,
)
PROFILES = {profile.name: profile for profile in (HOME, PRO, LAB)}
