"""An address as a QR code (ISO/IEC 18004), drawn as SVG."""

from functools import lru_cache
from io import BytesIO

import segno
from segno.encoder import DataOverflowError

from setwell.errors import InputError

# Longer ones make squares too fine for a print of 22 mm.
ADDRESS_MOST = 300


@lru_cache(maxsize=64)
def qr_svg(text: str) -> str:
    """Return the QR code of a text as one SVG element, dark on white with its quiet zone.

    Error correction M: a printed code survives a splash on about a seventh of it.
    """
    if not text or len(text) > ADDRESS_MOST:
        raise InputError(
            f"A QR code needs an address of 1 to {ADDRESS_MOST} characters; "
            f"this one has {len(text)}.",
            field="address",
        )
    drawn = BytesIO()
    try:
        code = segno.make(text, error="m", boost_error=False, micro=False)
    except (DataOverflowError, ValueError) as error:
        raise InputError(f"No QR code holds this address: {error}.", field="address") from None
    code.save(
        drawn, kind="svg", xmldecl=False, svgns=True, omitsize=True, border=4, light="#fff",
        nl=False, svgclass=None, lineclass=None,
    )  # fmt: skip
    return drawn.getvalue().decode()
