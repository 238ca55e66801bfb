# ruff: noqa: A002 - "id" is what the front doors and the tables call it

"""Photos of a dish and of its steps: put, list, show, remove."""

from collections.abc import Mapping
from dataclasses import dataclass

from setwell.documents.card import CardPhoto
from setwell.documents.steps import step_key, steps_as_typed
from setwell.domain.formula import Formula
from setwell.engine.assessment import StepReading
from setwell.engine.process import steps_read
from setwell.errors import InputError, NotFoundError
from setwell.services.clock import now
from setwell.services.formulas import version_get
from setwell.services.photo_pictures import (
    BYTES_MOST,
    PIXELS_MOST,
    picture_read,
    picture_size_check,
)
from setwell.store.photo_rows import (
    StoredPhoto,
    photo_picture,
    photo_row,
    photo_row_put,
    photo_row_remove,
    photo_rows,
)
from setwell.store.transactions import writing

__all__ = [
    "BYTES_MOST",
    "CAPTION_MOST",
    "PIXELS_MOST",
    "PhotoPlace",
    "PlacedPhotos",
    "StoredPhoto",
    "photo_get",
    "photo_put",
    "photo_remove",
    "photo_size_check",
    "photos_by_place",
    "photos_of_card",
    "photos_placed",
    "picture_get",
]

CAPTION_MOST = 200
_DISH = "The dish"


@dataclass(frozen=True, slots=True)
class PhotoPlace:
    """A place for a photo on the card: the dish (number 0) or a step, and what stands there."""

    number: int
    key: str
    text: str
    photo: StoredPhoto | None


@dataclass(frozen=True, slots=True)
class PlacedPhotos:
    """The places of a version's card, and photos of steps that it no longer has."""

    places: tuple[PhotoPlace, ...]
    left_over: tuple[StoredPhoto, ...]


def photos_placed(*, formula_id: int, number: int | None = None) -> PlacedPhotos:
    """Return the places for photos on the card of a version, and photos that fit none."""
    formula = version_get(formula_id=formula_id, number=number).formula
    stored = {photo.place: photo for photo in photo_rows(formula_id=formula_id)}
    texts = {step_key(text): text for text in _step_texts(formula)}
    named = [("", _DISH), *texts.items()]
    places = tuple(
        PhotoPlace(number, key, text, stored.get(key)) for number, (key, text) in enumerate(named)
    )
    left = tuple(photo for key, photo in stored.items() if key and key not in texts)
    return PlacedPhotos(places, left)


def photos_by_place(*, formula_id: int) -> dict[str, CardPhoto]:
    """Return the photos of a formula as a card takes them, by the key of their step."""
    return {photo.place: _on_card(photo) for photo in photo_rows(formula_id=formula_id)}


def photos_of_card(*, photos: tuple[CardPhoto, ...]) -> Mapping[int, bytes]:
    """Return the pictures of the photos on a card, by id."""
    return {photo.id: photo_picture(row_id=photo.id) for photo in photos}


def photo_put(
    *,
    formula_id: int,
    step: int,
    data: bytes,
    name: str = "",
    caption: str = "",
    number: int | None = None,
) -> int:
    """Keep a photo of a step, or of the dish for step 0, and return its id.

    It takes the place of the one that was there. The picture is written anew, smaller and
    without where, when and with what it was taken.
    """
    detail = version_get(formula_id=formula_id, number=number)
    words = _caption(caption)
    key, text = _place(detail.formula, step)
    picture = picture_read(data, name=name)
    with writing():
        return photo_row_put(
            formula_id=formula_id,
            place=key,
            place_text=text[:300],
            caption=words,
            taken_of=detail.summary.number,
            size=(picture.width, picture.height),
            jpeg=picture.jpeg,
            recorded_at=now(),
        )


def photo_size_check(*, size: int, name: str = "") -> None:
    """Refuse a file by its size, before anything of it is read."""
    picture_size_check(size=size, name=name[:80] or "The file")


def photo_get(*, formula_id: int, id: int) -> StoredPhoto:
    """Return one photo of this formula."""
    found = photo_row(row_id=id)
    if found.formula_id != formula_id:
        raise NotFoundError(f"There is no photo {id} of this formula.")
    return found


def picture_get(*, formula_id: int, id: int) -> bytes:
    """Return the JPEG file of one photo of this formula."""
    return photo_picture(row_id=photo_get(formula_id=formula_id, id=id).id)


def photo_remove(*, formula_id: int, id: int) -> None:
    """Delete one photo of this formula."""
    photo = photo_get(formula_id=formula_id, id=id)
    with writing():
        photo_row_remove(row_id=photo.id)


def _on_card(photo: StoredPhoto) -> CardPhoto:
    shown = _DISH if not photo.place else f"Step: {photo.place_text[:80]}"
    of = f"version {photo.taken_of}"
    caption = f"{photo.caption} ({of})" if photo.caption else f"Photo of {of}"
    return CardPhoto(photo.id, shown, caption, photo.width, photo.height)


def _caption(text: str) -> str:
    words = " ".join(text.replace("\x00", "").split())
    if len(words) > CAPTION_MOST:
        raise InputError(
            f"The caption has {len(words)} characters; at most {CAPTION_MOST} fit.",
            field="caption",
        )
    return words


def _place(formula: Formula, step: int) -> tuple[str, str]:
    if step == 0:
        return "", ""
    texts = _step_texts(formula)
    if not 1 <= step <= len(texts):
        raise InputError(
            f"There is no step {step}; the method has {len(texts)}.",
            field="step",
            hint="Choose a step of the list, or the dish.",
        )
    return step_key(texts[step - 1]), texts[step - 1]


def _step_texts(formula: Formula) -> tuple[str, ...]:
    """Return the steps as a card numbers them."""
    readings = [
        StepReading(number, step.text, step.kind.value, "", "")
        for number, step in enumerate(steps_read(formula.steps), start=1)
    ]
    return tuple(step.text for step in steps_as_typed(formula.steps, readings))
