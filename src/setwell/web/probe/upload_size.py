"""Refuse what is too large by the size it says, before any of it is read."""

from django.http import HttpRequest, HttpResponse

from setwell.services.probe_uploads import FILE_LIMIT
from setwell.web.policy import Answer
from setwell.web.refusal import refusal_page

# The other fields of a form, and what separates them.
_AROUND = 1_000_000


class UploadSizeMiddleware:
    """Answers a file above the limit at once; all smaller ones go on."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Look at the size only: to read a gigabyte for a refusal would take a while."""
        size = _size(request)
        if size <= FILE_LIMIT + _AROUND:
            return self.get_response(request)
        message = (
            f"The file has {size / 1e6:,.0f} MB; at most {FILE_LIMIT / 1e6:.0f} MB can be read."
        )
        smaller = (
            "send a smaller photo: 1600 pixels on the longer side are enough."
            if request.path.endswith("/photos/")
            else "export fewer hours or one sample each few seconds from the logger."
        )
        hint = f"Nothing was read or saved. Go back, and {smaller}"
        return refusal_page(request, status=413, message=message, hint=hint)


def _size(request: HttpRequest) -> int:
    try:
        return int(request.META.get("CONTENT_LENGTH") or 0)
    except ValueError:
        return 0
