"""The formula: what a chef wrote, as an immutable, hashed document."""

import json
from enum import StrEnum
from typing import Any, Literal, Self

from pydantic import Field, ValidationError, field_validator

from setwell.domain.document import CleanText, Document, document_error
from setwell.errors import DocumentError

FORMAT = "setwell-formula"
FORMAT_VERSION = 1
# Far above any real formula; keeps junk out of the database.
INGREDIENTS_LIMIT = 100_000
STEPS_LIMIT = 20_000
DOCUMENT_LIMIT = 400_000


class Goal(StrEnum):
    """What the set or thickened thing should do on the plate."""

    UNSPECIFIED = "unspecified"
    SLICE = "slice"
    SPOON = "spoon"
    SPREAD = "spread"
    POUR = "pour"

    @property
    def wants_gel(self) -> bool:
        """True when the goal cannot be met without a gel."""
        return self in {Goal.SLICE, Goal.SPOON}


class Diet(StrEnum):
    """Diets the formula claims to fit."""

    VEGAN = "vegan"
    VEGETARIAN = "vegetarian"
    NO_ALCOHOL = "no alcohol"
    NO_GLUTEN = "no gluten"


class MoldPlan(Document):
    """So many molds of one volume."""

    count: int = Field(ge=1, le=10_000)
    volume_ml: float = Field(gt=0, le=100_000, allow_inf_nan=False)


class Formula(Document):
    """One version of one formula, exactly as typed.

    Ingredients and steps stay plain text: what they are read as is computed, shown and
    corrected by typing, so nothing typed is ever replaced.
    """

    format: Literal["setwell-formula"] = "setwell-formula"
    format_version: Literal[1] = 1
    title: CleanText = Field(min_length=1, max_length=120)
    ingredients: CleanText = Field(default="", max_length=INGREDIENTS_LIMIT)
    steps: CleanText = Field(default="", max_length=STEPS_LIMIT)
    goal: Goal = Goal.UNSPECIFIED
    diets: tuple[Diet, ...] = ()
    portions: int | None = Field(default=None, ge=1, le=100_000)
    molds: MoldPlan | None = None
    evaporation_pct: float = Field(default=0.0, ge=0, le=90, allow_inf_nan=False)
    loss_pct: float = Field(default=0.0, ge=0, le=90, allow_inf_nan=False)
    serving_temperature_c: float | None = Field(default=None, ge=-40, le=120, allow_inf_nan=False)
    notes: CleanText = Field(default="", max_length=20_000)
    parts: dict[str, str] = Field(
        default_factory=dict,
        description="Formulas used as ingredients: title as written, and the hash of that version",
    )

    @field_validator("title")
    @classmethod
    def _title_has_words(cls, title: str) -> str:
        if not title.strip():
            raise ValueError("give the formula a name")
        return " ".join(title.split())

    @field_validator("diets")
    @classmethod
    def _diets_once_each(cls, diets: tuple[Diet, ...]) -> tuple[Diet, ...]:
        return tuple(sorted(set(diets)))

    def revised(self, **changes: Any) -> Self:  # noqa: ANN401 - any field of the document
        """Return a validated copy with some fields changed."""
        try:
            return type(self).model_validate({**self.model_dump(), **changes})
        except ValidationError as error:
            raise document_error(error) from None


def formula_make(**fields: Any) -> Formula:  # noqa: ANN401 - any field of the document
    """Return a formula from loose fields, or say which field is wrong and why."""
    try:
        return Formula.model_validate(fields)
    except ValidationError as error:
        raise document_error(error) from None


def formula_from_json(text: str) -> Formula:
    """Return the formula that a JSON text holds."""
    if len(text) > DOCUMENT_LIMIT:
        raise DocumentError(
            f"The document has {len(text):,} characters; a formula has at most "
            f"{DOCUMENT_LIMIT:,}. Is this the right file?"
        )
    try:
        raw = json.loads(text)
    except (json.JSONDecodeError, RecursionError) as error:
        raise DocumentError(f"This is not valid JSON: {error}.") from None
    if not isinstance(raw, dict) or raw.get("format") != FORMAT:
        raise DocumentError(
            f'This JSON is not a Setwell formula: "format" should be "{FORMAT}".',
            hint="To start from a web recipe, import it as schema.org Recipe.",
        )
    if raw.get("format_version") != FORMAT_VERSION:
        raise DocumentError(
            f"This formula has format version {str(raw.get('format_version'))[:20]}; "
            f"this Setwell reads version {FORMAT_VERSION}.",
            hint="Update Setwell, or export the formula again from the kitchen it came from.",
        )
    return formula_make(**{str(key): value for key, value in raw.items()})


def formula_schema() -> dict[str, Any]:
    """Return the JSON Schema of the formula document."""
    schema = Formula.model_json_schema()
    return {"$schema": "https://json-schema.org/draft/2020-12/schema", **schema}
