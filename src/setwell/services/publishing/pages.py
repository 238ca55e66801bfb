"""From a publication to the card that its page shows."""

import datetime as dt
from collections.abc import Iterable
from dataclasses import replace

from setwell.documents.card import Card, card_build
from setwell.documents.published_card import (
    ChangeNote,
    PublishedCard,
    PublishedPhoto,
    RecipeNutrition,
    RecipeTimes,
    recipe_description,
    recipe_diets,
    recipe_nutrition,
)
from setwell.documents.published_nutrition import label_nutrition
from setwell.documents.qr_code import ADDRESS_MOST
from setwell.engine.assessment import Assessment
from setwell.services.assessment import formula_assess
from setwell.services.formulas import VersionDetail, version_get
from setwell.services.label_kept import traces_kept
from setwell.services.labels import panel_kept
from setwell.services.photos import photos_by_place, photos_of_card
from setwell.services.shelves import kitchen_read
from setwell.store.publication_rows import StoredPublication, StoredPublishing


def published_card(publication: StoredPublication, *, address: str = "") -> PublishedCard:
    """Return the card of a page, computed with what this kitchen knows today."""
    newest = publication.newest
    return card_for_page(
        formula_id=publication.formula_id,
        number=newest.number,
        name=publication.name,
        first=publication.versions[-1].published_at,
        published=newest.published_at,
        times=recipe_times(newest.times),
        changes=tuple(_notes(publication.versions)),
        address=f"{address}cards/{publication.name}/" if address else "",
    )


def card_for_page(
    *,
    formula_id: int,
    number: int,
    name: str,
    first: dt.datetime,
    published: dt.datetime,
    times: RecipeTimes | None = None,
    changes: tuple[ChangeNote, ...] = (),
    address: str = "",
) -> PublishedCard:
    """Return one version of a formula as a page shows it."""
    detail = version_get(formula_id=formula_id, number=number)
    assessment = formula_assess(formula=detail.formula, formula_id=formula_id, number=number)
    label = f"version {number}"
    whole = card_build(
        assessment,
        version_label=label,
        kitchen=kitchen_read(),
        address=address if len(address) <= ADDRESS_MOST else "",
        photos=photos_by_place(formula_id=formula_id),
        traces=traces_kept(formula_id=formula_id, number=number),
    )
    card = _without_lots(whole, assessment)
    return PublishedCard(
        card=card,
        name=name,
        number=number,
        first_published=first,
        published=published,
        description=recipe_description(card),
        portions=assessment.batch.portions,
        recipe_diets=recipe_diets(assessment),
        nutrition=_nutrition(detail, assessment),
        times=times or RecipeTimes(),
        changes=changes,
        photos=_photos(card),
        address=address,
    )


def _nutrition(detail: VersionDetail, assessment: Assessment) -> RecipeNutrition | None:
    """Return what the label declares where it is settled, or else the computed figures."""
    summary = detail.summary
    panel = panel_kept(formula=detail.formula, formula_id=summary.formula_id, number=summary.number)
    declared = label_nutrition(panel) if panel is not None else None
    return declared or recipe_nutrition(assessment)


def _without_lots(card: Card, assessment: Assessment) -> Card:
    """Return the card for strangers: the numbers of the kitchen's lots are its own business."""
    lots = {agent.key: agent.lot for agent in assessment.agents if agent.lot}
    boxes = (
        replace(box, basis=box.basis.replace(f"lot {lots[box.agent]}", "our lot"))
        if box.agent in lots
        else box
        for box in card.lot_boxes
    )
    return replace(card, lot_boxes=tuple(boxes))


def _photos(card: Card) -> tuple[PublishedPhoto, ...]:
    shown = (card.photo, *(step.photo for step in card.steps))
    pictures = photos_of_card(photos=tuple(photo for photo in shown if photo is not None))
    return tuple(PublishedPhoto(number, data) for number, data in pictures.items())


def recipe_times(stored: dict[str, float]) -> RecipeTimes:
    """Return the times as they were when the version was published."""
    return RecipeTimes(stored.get("preparing"), stored.get("cooking"), stored.get("total"))


def _notes(versions: tuple[StoredPublishing, ...]) -> Iterable[ChangeNote]:
    for version in versions:
        day = version.published_at.date()
        yield ChangeNote(version.number, day, version.changes, version.remark)
