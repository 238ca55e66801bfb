"""What a material is bought for: by the kilogram or by the pack, and how much of it is lost."""

from typing import Annotated

from pydantic import Field, ValidationInfo, field_validator

from setwell.domain.document import CleanText, Document
from setwell.domain.fields import Amount, PositiveAmount

# A price per kg and a pack that both are told must agree this closely.
_AGREES = 0.01
# Peel, shells, trim and what stays in the bag: more than this is a mistyped number.
Waste = Annotated[float, Field(ge=0, le=95, allow_inf_nan=False)]


class Bought(Document):
    """The price of a material; a pack, if there is one, says what can be ordered.

    `waste_pct` is the part of what is paid for that never reaches the batch.
    """

    price_per_kg: Amount | None = None
    pack_g: PositiveAmount | None = None
    pack_price: Amount | None = None
    waste_pct: Waste | None = None
    supplier: Annotated[CleanText, Field(max_length=120)] = ""

    @field_validator("pack_price")
    @classmethod
    def _pack_says_the_same(cls, price: float | None, info: ValidationInfo) -> float | None:
        if price is None or "pack_g" not in info.data:
            return price
        grams, per_kg = info.data["pack_g"], info.data.get("price_per_kg")
        if grams is None:
            raise ValueError("a price of a pack needs the weight of the pack; write it in grams")
        told = 1000.0 * price / grams
        if per_kg is not None and abs(told - per_kg) > _AGREES * max(told, per_kg):
            raise ValueError(
                f"{price:g} for {grams:g} g is {told:.4g} per kg, but the price per kg says "
                f"{per_kg:g}; leave one of the two empty"
            )
        return price

    def terms(self) -> "Bought":
        """Return what a pantry document says of its price, and no more."""
        return Bought(**{name: getattr(self, name) for name in Bought.model_fields})

    @property
    def per_kg(self) -> float | None:
        """What a kilogram costs as bought; None where no price is known."""
        if self.pack_price is not None and self.pack_g is not None:
            return 1000.0 * self.pack_price / self.pack_g
        return self.price_per_kg


class Stocked(Bought):
    """What is bought, and how much of it stands on the shelf; None where nobody noted it."""

    stock_g: Amount | None = None
