"""Short ways to a published card in tests."""

import datetime as dt
from typing import Any

from builders_engine import HOT, assess_of

from setwell.documents.card import CardPhoto, card_build
from setwell.documents.published_card import (
    ChangeNote,
    PublishedCard,
    RecipeTimes,
    recipe_description,
    recipe_diets,
    recipe_nutrition,
)
from setwell.domain.pantry import Kitchen

MOMENT = dt.datetime(2026, 3, 5, 9, 30, tzinfo=dt.UTC)
LINES = ("500 g whole milk", "60 g sugar", "0.8% kappa carrageenan")


def published_of(*lines: str, **own: Any) -> PublishedCard:
    """Return a published card of these lines; `title`, `steps`... go to the formula."""
    page = {
        key: own.pop(key) for key in ("name", "address", "changes", "photos", "times") if key in own
    }
    fields = {"steps": HOT, "portions": 4, "title": "Milk blocks", **own}
    assessment = assess_of(*(lines or LINES), **fields)
    card = card_build(
        assessment,
        version_label="version 2",
        kitchen=Kitchen(name="Tidewater Bench"),
        photos={"": CardPhoto(1, "The dish", "A white block, cut", 4, 3)}
        if "photos" in page
        else {},
    )
    page.setdefault("times", RecipeTimes(10, 12, 190))
    page.setdefault("changes", (ChangeNote(2, MOMENT.date(), ("Step added: Chill",)),))
    return PublishedCard(
        card=card, number=2, first_published=MOMENT, published=MOMENT + dt.timedelta(days=1),
        description=recipe_description(card), portions=assessment.batch.portions,
        recipe_diets=recipe_diets(assessment), nutrition=recipe_nutrition(assessment),
        **{"name": "milk-blocks", **page},
    )  # fmt: skip
