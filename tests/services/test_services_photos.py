"""Photos of a dish and of its steps: what is kept, what is refused, and where it is shown."""

import struct
import zlib
from io import BytesIO

import pytest
from PIL import Image, ImageCms, ImageDraw

from setwell.documents.card import CardKind
from setwell.domain.formula import formula_make
from setwell.errors import InputError, NotFoundError
from setwell.services import formulas, photos
from setwell.services.cards import card_get, card_pdf
from setwell.services.photo_pictures import SIDE_MOST, picture_read

pytestmark = pytest.mark.django_db

STEPS = "Whisk the agar into the water.\nBoil for 3 min.\nChill at 4 °C for 2 h."


@pytest.fixture
def formula_id() -> int:
    made = formula_make(title="Blocks", ingredients="300 g water\n4 g agar", steps=STEPS)
    return formulas.formula_create(formula=made).formula_id


def file_of(image: Image.Image, form: str = "JPEG", **options) -> bytes:
    drawn = BytesIO()
    image.save(drawn, form, **options)
    return drawn.getvalue()


def photo(width: int = 320, height: int = 240) -> Image.Image:
    return Image.new("RGB", (width, height), (40, 120, 90))


def test_a_photo_stands_on_the_card_at_its_step(formula_id):
    dish = photos.photo_put(
        formula_id=formula_id, step=0, data=file_of(photo()), caption=" On  a plate "
    )
    step = photos.photo_put(formula_id=formula_id, step=2, data=file_of(photo()))
    formula = formulas.version_get(formula_id=formula_id).formula
    card = card_get(formula=formula, formula_id=formula_id, number=1, kind=CardKind.HOME)
    assert card.photo is not None
    assert (card.photo.id, card.photo.caption) == (dish, "On a plate (version 1)")
    assert [s.photo.id if s.photo else None for s in card.steps] == [None, step, None]
    assert card_pdf(card=card).startswith(b"%PDF")


def test_a_photo_follows_its_step_and_leaves_when_the_words_change(formula_id):
    photos.photo_put(formula_id=formula_id, step=2, data=file_of(photo()))
    first = formulas.version_get(formula_id=formula_id).formula
    moved = first.revised(steps="Weigh.\n" + STEPS)
    formulas.formula_save(formula_id=formula_id, formula=moved, base_number=1)
    placed = photos.photos_placed(formula_id=formula_id)
    assert [place.number for place in placed.places if place.photo] == [3]
    reworded = first.revised(steps=STEPS.replace("Boil for 3 min", "Boil hard"))
    formulas.formula_save(formula_id=formula_id, formula=reworded, base_number=2)
    placed = photos.photos_placed(formula_id=formula_id)
    assert [place.number for place in placed.places if place.photo] == []
    assert [one.place_text for one in placed.left_over] == ["Boil for 3 min."]


def test_a_new_photo_takes_the_place_of_the_old_one(formula_id):
    first = photos.photo_put(formula_id=formula_id, step=0, data=file_of(photo()))
    second = photos.photo_put(formula_id=formula_id, step=0, data=file_of(photo(200, 200)))
    assert second != first
    assert len(photos.photos_by_place(formula_id=formula_id)) == 1
    with pytest.raises(NotFoundError):
        photos.picture_get(formula_id=formula_id, id=first)


def test_a_photo_of_another_formula_is_not_given_out(formula_id):
    other = formulas.formula_duplicate(formula_id=formula_id).formula_id
    kept = photos.photo_put(formula_id=formula_id, step=0, data=file_of(photo()))
    with pytest.raises(NotFoundError):
        photos.picture_get(formula_id=other, id=kept)
    with pytest.raises(NotFoundError):
        photos.photo_remove(formula_id=other, id=kept)
    photos.photo_remove(formula_id=formula_id, id=kept)
    assert photos.photos_by_place(formula_id=formula_id) == {}


def test_nothing_of_the_camera_is_kept():
    notes = Image.Exif()
    notes[0x010F] = "Maker of cameras"
    notes[0x0112] = 6
    notes.get_ifd(0x8825)[2] = (59.0, 54.0, 0.0)
    sent = file_of(photo(), exif=notes, comment=b"private words")
    assert b"Maker of cameras" in sent
    kept = picture_read(sent)
    assert b"Maker" not in kept.jpeg
    assert b"private" not in kept.jpeg
    with Image.open(BytesIO(kept.jpeg)) as image:
        assert dict(image.getexif()) == {}
        assert "comment" not in image.info
    # Orientation 6 is a quarter turn: the picture stands upright now.
    assert (kept.width, kept.height) == (240, 320)


def test_a_wide_color_profile_becomes_the_usual_one():
    profile = ImageCms.ImageCmsProfile(ImageCms.createProfile("sRGB")).tobytes()
    kept = picture_read(file_of(photo(), icc_profile=profile))
    with Image.open(BytesIO(kept.jpeg)) as image:
        assert "icc_profile" not in image.info
        assert image.getpixel((10, 10)) == pytest.approx((40, 120, 90), abs=4)


def test_a_large_photo_is_made_small_and_keeps_its_shape():
    kept = picture_read(file_of(photo(4000, 3000)))
    assert (kept.width, kept.height) == (SIDE_MOST, 1200)
    assert len(kept.jpeg) < 500_000


@pytest.mark.parametrize("form", ["PNG", "WEBP"])
def test_see_through_parts_become_white(form):
    clear = Image.new("RGBA", (80, 80), (0, 0, 0, 0))
    ImageDraw.Draw(clear).rectangle((0, 0, 39, 79), fill=(200, 30, 30, 255))
    kept = picture_read(file_of(clear, form))
    with Image.open(BytesIO(kept.jpeg)) as image:
        assert min(image.getpixel((70, 40))) > 245


def png_that_says(width: int, height: int) -> bytes:
    """A file of a few bytes that says it has very many pixels."""

    def chunk(kind: bytes, data: bytes) -> bytes:
        return (
            struct.pack(">I", len(data)) + kind + data + struct.pack(">I", zlib.crc32(kind + data))
        )

    head = struct.pack(">IIBBBBB", width, height, 8, 2, 0, 0, 0)
    body = chunk(b"IHDR", head) + chunk(b"IDAT", zlib.compress(b"\0" * 100)) + chunk(b"IEND", b"")
    return b"\x89PNG\r\n\x1a\n" + body


@pytest.mark.parametrize(("width", "height"), [(6400, 6300), (12_000, 9_000), (60_000, 60_000)])
def test_too_many_pixels_are_refused_before_they_are_read(width, height):
    with pytest.raises(InputError, match="more than 40 megapixels") as caught:
        picture_read(png_that_says(width, height), name="huge.png")
    assert caught.value.field == "file"


@pytest.mark.parametrize(
    "data",
    [
        b"not a photo at all",
        b"\xff\xd8\xff\xe0 broken",
        file_of(photo())[:400],
        png_that_says(300, 300),
        b"<svg xmlns='http://www.w3.org/2000/svg' width='10' height='10'/>",
        b"%PDF-1.7",
        file_of(photo(), "GIF"),
        file_of(photo(), "BMP"),
    ],
)
def test_what_is_no_photo_is_refused_at_its_field(data):
    with pytest.raises(InputError, match="cannot be read as a photo") as caught:
        picture_read(data, name="dish.jpg")
    assert caught.value.field == "file"
    assert "JPEG, PNG or WebP" in caught.value.hint


def test_a_file_of_50_mb_is_refused_by_its_size():
    with pytest.raises(InputError, match="has 50 MB; a photo may have 20 MB"):
        picture_read(b"\xff" * 50_000_000, name="dish.jpg")
    with pytest.raises(InputError, match="is empty"):
        picture_read(b"")


def test_a_step_that_is_not_there_and_a_long_caption_are_refused(formula_id):
    with pytest.raises(InputError, match="There is no step 4; the method has 3"):
        photos.photo_put(formula_id=formula_id, step=4, data=file_of(photo()))
    with pytest.raises(InputError, match="at most 200 fit") as caught:
        photos.photo_put(formula_id=formula_id, step=1, data=file_of(photo()), caption="x" * 201)
    assert caught.value.field == "caption"
    assert photos.photos_by_place(formula_id=formula_id) == {}


NO_ADDRESS = (
    "kitchen", "ftp://a/b", "javascript:alert(1)", "http://", "http://a b",
    "https://a/" + "x" * 400,
)  # fmt: skip


@pytest.mark.parametrize("address", NO_ADDRESS)
def test_an_address_that_is_none_is_refused(address):
    formula = formula_make(title="Blocks", ingredients="300 g water\n4 g agar", steps=STEPS)
    with pytest.raises(InputError, match="The address") as caught:
        card_get(formula=formula, address=address)
    assert caught.value.field == "address"
