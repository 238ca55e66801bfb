"""Kinds of fields that several documents of the kitchen share."""

from typing import Annotated

from pydantic import Field

from setwell.domain.document import CleanText

Name = Annotated[CleanText, Field(min_length=1, max_length=120)]
Note = Annotated[CleanText, Field(max_length=2_000)]
Amount = Annotated[float, Field(ge=0, le=1e7, allow_inf_nan=False)]
PositiveAmount = Annotated[float, Field(gt=0, le=1e7, allow_inf_nan=False)]
Acidity = Annotated[float, Field(ge=0, le=14, allow_inf_nan=False)]
