"""A brief: what is wanted of a texture, of which base, and what the kitchen allows."""

import json
from enum import StrEnum
from typing import Annotated, Any, Literal, Self

from pydantic import Field, ValidationError, model_validator

from setwell.domain.document import CleanText, Document, validation_sentence
from setwell.domain.fields import Acidity, Amount, Name, Note, PositiveAmount
from setwell.domain.formula import Diet
from setwell.errors import DocumentError

FORMAT, FORMAT_VERSION = "setwell-brief", 1
DOCUMENT_LIMIT = 200_000
_BASE_LIMIT = 20_000
_NAMES_MOST = 60
_TOO_DEEP = "This is nested too deeply to be a brief."

Share = Annotated[float, Field(ge=0, le=100, allow_inf_nan=False)]
Celsius = Annotated[float, Field(ge=-5, le=120, allow_inf_nan=False)]
Milligrams = Annotated[float, Field(ge=0, le=5000, allow_inf_nan=False)]
Names = Annotated[tuple[Name, ...], Field(max_length=_NAMES_MOST)]


class Clarity(StrEnum):
    """How clear it has to look; a clearer one fits as well."""

    ANY = "any"
    CLEAR = "clear"
    SLIGHTLY_CLOUDY = "slightly cloudy"
    CLOUDY = "cloudy"


class Mouth(StrEnum):
    """What it does when it gets warm."""

    ANY = "any"
    MELTS = "melts"
    HOLDS = "holds"


class Plating(StrEnum):
    """How it comes to the plate."""

    ANY = "any"
    UNMOLDS = "unmolds"
    SPOONS = "spoons"
    POURS = "pours"


class Market(StrEnum):
    """Whose rules on additives it has to keep."""

    ANY = "any"
    US = "us"
    EU = "eu"


class Helper(StrEnum):
    """A salt or buffer that may go with the agents."""

    POTASSIUM_CHLORIDE = "potassium chloride"
    CALCIUM_LACTATE = "calcium lactate"
    TRISODIUM_CITRATE = "trisodium citrate"


class Composition(Document):
    """A base told by what it is made of, per 100 g; the rest is water."""

    name: Name = "base"
    sugar_g: Share = 0.0
    fat_g: Share = 0.0
    protein_g: Share = 0.0
    milk_protein_g: Share = 0.0
    starch_g: Share = 0.0
    alcohol_g: Share = 0.0
    salt_g: Share = 0.0
    calcium_mg: Milligrams = 0.0
    potassium_mg: Milligrams = 0.0
    ph: Acidity | None = None


class TextureWish(Document):
    """What it should feel like; None leaves a side open.

    `word` is the name of a part of the texture map or of the thickness bands, such as "elastic"
    or "coating"; `like` the title of a saved formula whose texture is asked for, `like_number`
    one version of it. Stiffness and stress in kPa, thickness in mPa·s at slow stirring. Numbers
    count beside a word, and win over what is read from `like`.
    """

    word: Annotated[CleanText, Field(max_length=60)] = ""
    like: Annotated[CleanText, Field(max_length=120)] = ""
    like_number: int | None = Field(default=None, ge=1)
    sets: bool | None = None
    modulus_low: PositiveAmount | None = None
    modulus_high: PositiveAmount | None = None
    stress_low: PositiveAmount | None = None
    stress_high: PositiveAmount | None = None
    strain_low: PositiveAmount | None = None
    strain_high: PositiveAmount | None = None
    thickness_low: PositiveAmount | None = None
    thickness_high: PositiveAmount | None = None


class Limits(Document):
    """What the process allows; `set_within_h` counts from pouring to a gel that stands."""

    max_temperature_c: Celsius = 100.0
    has_blender: bool = True
    is_acid_hot: bool = False
    set_within_h: float | None = Field(default=None, gt=0, le=240, allow_inf_nan=False)


class Brief(Document):
    """What is wanted, exactly as asked.

    The base is one of three: `base` in kitchen lines, the title of a saved formula in
    `base_formula` (its agents are left out), or a `composition`. An empty `shelf` means every
    agent known; `without` names agents that may not come in.
    """

    format: Literal["setwell-brief"] = "setwell-brief"
    format_version: Literal[1] = 1
    title: Name
    base: Annotated[CleanText, Field(max_length=_BASE_LIMIT)] = ""
    base_formula: Annotated[CleanText, Field(max_length=120)] = ""
    composition: Composition | None = None
    texture: TextureWish = TextureWish()
    clarity: Clarity = Clarity.ANY
    serving_c: Celsius = 4.0
    mouth: Mouth = Mouth.ANY
    # How hot it must still stand, where it is kept or served hot [°C].
    holds_c: Celsius | None = None
    is_frozen: bool = False
    plating: Plating = Plating.ANY
    # Whether cocoa, herbs or pulp are to stay up; judged by listed practice.
    keeps_afloat: bool = False
    diets: tuple[Diet, ...] = ()
    without_allergens: Names = ()
    market: Market = Market.ANY
    limits: Limits = Limits()
    shelf: Names = ()
    without: Names = ()
    helpers: tuple[Helper, ...] = tuple(Helper)
    agents_most: int = Field(default=3, ge=1, le=3)
    portion_g: float = Field(default=100.0, gt=0, le=10_000, allow_inf_nan=False)
    cost_most: Amount | None = None
    note: Note = ""

    def canonical_fields(self) -> dict[str, Any]:
        """Return the fields; a wish that came later stands only where it is asked.

        So a brief saved before there was such a wish is still the same, word for word.
        """
        fields = super().canonical_fields()
        return {name: value for name, value in fields.items() if name != "keeps_afloat" or value}

    @model_validator(mode="after")
    def _one_base(self) -> Self:
        given = [bool(self.base.strip()), bool(self.base_formula.strip()),
                 self.composition is not None]  # fmt: skip
        if sum(given) > 1:
            raise ValueError("give the base once: as lines, as a saved formula or as a composition")
        return self


def brief_make(**fields: object) -> Brief:
    """Return a brief, or say at which field it cannot be one. Raises DocumentError.

    The field of the error is dotted where it is an inner one, such as `texture.modulus_low`.
    """
    try:
        return Brief.model_validate(fields)
    except ValidationError as error:
        # A place in a list belongs to the list's own field.
        place = [str(part) for part in error.errors()[0]["loc"] if not isinstance(part, int)]
        raise DocumentError(validation_sentence(error), field=".".join(place)) from None
    except RecursionError:
        raise DocumentError(_TOO_DEEP) from None


def brief_from_json(text: str) -> Brief:
    """Return the brief of a JSON text. Raises DocumentError."""
    if len(text) > DOCUMENT_LIMIT:
        message = (
            f"This file is {len(text):,} characters long; at most {DOCUMENT_LIMIT:,} are read."
        )
        raise DocumentError(message)
    try:
        fields = json.loads(text)
    except ValueError as error:
        raise DocumentError(f"This is not JSON: {error}") from None
    except RecursionError:
        raise DocumentError(_TOO_DEEP) from None
    if not isinstance(fields, dict):
        raise DocumentError("This JSON is a list or a single value, not a brief.")
    return brief_make(**fields)
