"""A picture as it was sent becomes a small JPEG that tells nothing but what it shows."""

from dataclasses import dataclass
from io import BytesIO

from PIL import Image, ImageCms, ImageOps

from setwell.errors import DocumentError

# What a page says about its limits.
BYTES_MOST = 20_000_000
PIXELS_MOST = 40_000_000
# The longer side that is kept: sharp on paper up to 14 cm at 300 dots per inch.
SIDE_MOST = 1600
_SIDE_LEAST = 40
_QUALITY = 82
# What a phone or a camera writes; a JPEG with several pictures in it gives its first.
_FORMATS = ("JPEG", "PNG", "WEBP")


@dataclass(frozen=True, slots=True)
class Picture:
    """A JPEG file and its size in pixels."""

    jpeg: bytes
    width: int
    height: int


def picture_read(data: bytes, *, name: str = "") -> Picture:
    """Return a picture upright, at most 1600 pixels long, without any of the camera's notes."""
    shown = name[:80] or "The file"
    picture_size_check(size=len(data), name=shown)
    try:
        with Image.open(BytesIO(data), formats=_FORMATS) as opened:
            _pixels_check(opened.size, shown)
            # A JPEG can be read at a half or a quarter straight away, which saves time.
            opened.draft("RGB", (2 * SIDE_MOST, 2 * SIDE_MOST))
            upright = ImageOps.exif_transpose(opened)
            return _written(_shrunk(_plain(upright)))
    except (Image.DecompressionBombError, Image.DecompressionBombWarning):
        raise _too_many(shown) from None
    except DocumentError:
        raise
    # Broken files fail in many ways, each reader with its own.
    except (OSError, ValueError, SyntaxError, EOFError, IndexError, TypeError):
        raise DocumentError(
            f"{shown} cannot be read as a photo.",
            field="file",
            hint="Send a JPEG, PNG or WebP file. A phone that saves HEIC can share a photo as "
            "JPEG (“most compatible”).",
        ) from None


def picture_size_check(*, size: int, name: str) -> None:
    """Refuse a file by its size, before anything of it is read."""
    if size == 0:
        raise DocumentError(f"{name} is empty.", field="file", hint="Choose the photo again.")
    if size > BYTES_MOST:
        raise DocumentError(
            f"{name} has {size / 1e6:.0f} MB; a photo may have {BYTES_MOST / 1e6:.0f} MB.",
            field="file",
            hint="Save it smaller: 1600 pixels on the longer side are enough.",
        )


def _pixels_check(size: tuple[int, int], name: str) -> None:
    width, height = size
    if width * height > PIXELS_MOST:
        raise _too_many(f"{name}, {width} × {height} pixels,")
    if min(width, height) < _SIDE_LEAST:
        raise DocumentError(
            f"{name} has {width} × {height} pixels; a photo needs {_SIDE_LEAST} on each side.",
            field="file",
            hint="Is this the right file?",
        )


def _too_many(name: str) -> DocumentError:
    return DocumentError(
        f"{name} has more than {PIXELS_MOST / 1e6:.0f} megapixels.",
        field="file",
        hint="Save it smaller: 1600 pixels on the longer side are enough.",
    )


def _plain(image: Image.Image) -> Image.Image:
    """Return the picture in plain color, on white where it is see-through."""
    profile = image.info.get("icc_profile")
    if image.has_transparency_data:
        clear = image.convert("RGBA")
        paper = Image.new("RGBA", clear.size, "white")
        return Image.alpha_composite(paper, clear).convert("RGB")
    if profile and image.mode in {"RGB", "CMYK"}:
        try:
            source = ImageCms.ImageCmsProfile(BytesIO(profile))
            converted = ImageCms.profileToProfile(
                image, source, ImageCms.createProfile("sRGB"), outputMode="RGB"
            )
        except (ImageCms.PyCMSError, OSError, ValueError):
            converted = None
        if converted is not None:
            return converted
    return image.convert("RGB")


def _shrunk(image: Image.Image) -> Image.Image:
    image.thumbnail((SIDE_MOST, SIDE_MOST), Image.Resampling.LANCZOS)
    return image


def _written(image: Image.Image) -> Picture:
    """Write only the pixels: a fresh picture has none of the notes of the one it came from."""
    bare = Image.new("RGB", image.size)
    bare.paste(image)
    file = BytesIO()
    bare.save(file, "JPEG", quality=_QUALITY, optimize=True, progressive=True)
    return Picture(file.getvalue(), *bare.size)
