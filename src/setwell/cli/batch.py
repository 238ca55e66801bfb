"""The options for a batch of another weight, and for the scale it is weighed on."""

import re
from typing import Annotated

import typer

from setwell.units import mass_parse, number_parse

BatchSize = Annotated[
    str | None,
    typer.Option("--batch", metavar="AMOUNT", help="Weigh this batch, as in 1.5 kg."),
]
Readability = Annotated[
    str | None,
    typer.Option("--readability", metavar="GRAMS", help="Smallest step of the scale, as in 0.1."),
]


def grams_parse(text: str) -> float:
    """Return the step of a scale, with or without its unit."""
    if re.search(r"[a-zA-Z]", text):
        return mass_parse(text, field="readability")
    return number_parse(text, field="readability")
