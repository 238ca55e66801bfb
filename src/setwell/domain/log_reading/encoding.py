"""From the bytes of a file to text: what a logger or a spreadsheet may have written it in."""

from typing import NamedTuple

from setwell.errors import DocumentError

_MARKS = (
    (b"\xef\xbb\xbf", "utf-8-sig", "UTF-8"),
    (b"\xff\xfe", "utf-16", "UTF-16"),
    (b"\xfe\xff", "utf-16", "UTF-16"),
)
# Files of programs that are often taken for their export.
_NOT_TEXT = (
    (b"PK\x03\x04", "a spreadsheet workbook or a ZIP archive"),
    (b"\xd0\xcf\x11\xe0", "an old spreadsheet workbook"),
    (b"%PDF", "a PDF"),
    (b"\x1f\x8b", "a compressed file"),
    (b"\x89PNG", "a picture"),
    (b"\xff\xd8\xff", "a picture"),
)
_LOOKED_AT = 4_096


class Decoded(NamedTuple):
    """A text, what it was written in, and what to say about that."""

    text: str
    encoding: str
    note: str = ""


def log_decode(data: bytes) -> Decoded:
    """Return the text of a file, or say why it is none."""
    for start, kind in _NOT_TEXT:
        if data.startswith(start):
            raise _refused(f"This is {kind}, not a text file.")
    for mark, codec, name in _MARKS:
        if data.startswith(mark):
            return Decoded(_checked(_strict(data, codec, name)), name)
    half = _utf16_without_mark(data[:_LOOKED_AT])
    if half:
        return Decoded(_checked(_strict(data, half, "UTF-16")), "UTF-16")
    try:
        return Decoded(_checked(data.decode("utf-8")), "UTF-8")
    except UnicodeDecodeError:
        text = _checked(data.decode("cp1252", errors="replace"))
        note = (
            "The file is not Unicode; it was read as Western European (Windows-1252). "
            "Check the names of the probes."
        )
        return Decoded(text, "Windows-1252", note)


def _strict(data: bytes, codec: str, name: str) -> str:
    try:
        return data.decode(codec)
    except UnicodeDecodeError as error:
        raise DocumentError(
            f"The file says it is {name}, but stops being so at byte {error.start:,}.",
            hint="The copy is probably cut short. Export it from the logger again.",
        ) from None


def _utf16_without_mark(start: bytes) -> str:
    """Return the byte order where every second byte is nothing, as Latin text in UTF-16 is."""
    if len(start) < 4:
        return ""
    even, odd = start[0::2].count(0), start[1::2].count(0)
    half = len(start) // 2
    if odd > 0.8 * half and even < 0.2 * half:
        return "utf-16-le"
    return "utf-16-be" if even > 0.8 * half and odd < 0.2 * half else ""


def _checked(text: str) -> str:
    start = text[:_LOOKED_AT]
    strange = sum(1 for sign in start if sign < " " and sign not in "\t\n\r\f\v")
    if "\x00" in text or strange > len(start) // 50:
        raise _refused("This is not a text file: it has characters that no text has.")
    return text


def _refused(message: str) -> DocumentError:
    return DocumentError(message, hint="Export the log as CSV or as text, then send that file.")
