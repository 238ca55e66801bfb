"""Light or dark: what the person chose, kept in a cookie."""

from django.http import HttpRequest, HttpResponse

COOKIE = "look"
LOOKS = ("auto", "light", "dark")
# One year, in seconds.
_KEPT = 31_536_000


def look_of(request: HttpRequest) -> str:
    """Return the chosen look; `auto` follows the device."""
    chosen = request.COOKIES.get(COOKIE, "auto")
    return chosen if chosen in LOOKS else "auto"


def look(request: HttpRequest) -> dict[str, str]:
    """Offer the look to every template."""
    return {"look": look_of(request)}


def look_keep(response: HttpResponse, chosen: str) -> HttpResponse:
    """Keep a choice; anything unknown counts as `auto`."""
    value = chosen if chosen in LOOKS else "auto"
    response.set_cookie(COOKIE, value, max_age=_KEPT, samesite="Lax", httponly=True)
    return response
