"""When something cannot be done: one table from our errors to pages."""

from django.http import HttpRequest, HttpResponse
from django.shortcuts import render

from setwell.errors import (
    ConflictError,
    InputError,
    MissingDataError,
    ModelError,
    NotAllowedError,
    NotFoundError,
    SetwellError,
)
from setwell.web.policy import Answer

# First match wins; TableError and the rest are faults of ours.
_STATUS: tuple[tuple[type[SetwellError], int], ...] = (
    (NotFoundError, 404),
    (ConflictError, 409),
    (NotAllowedError, 403),
    (InputError, 400),
    (MissingDataError, 422),
    (ModelError, 422),
)
_TITLES = {
    400: "That could not be read",
    403: "That is not allowed here",
    404: "Not found",
    409: "Someone else changed this in between",
    413: "That is too much text at once",
    422: "No answer for these inputs",
    500: "Something broke on our side",
}


class RefusalMiddleware:
    """Turn every error of ours into a page with a sentence and a way back."""

    def __init__(self, get_response: Answer) -> None:
        self.get_response = get_response

    def __call__(self, request: HttpRequest) -> HttpResponse:
        """Pass the request on unchanged."""
        return self.get_response(request)

    def process_exception(self, request: HttpRequest, error: Exception) -> HttpResponse | None:
        """Answer our own errors; leave all others to the error page."""
        if not isinstance(error, SetwellError):
            return None
        status = next((code for kind, code in _STATUS if isinstance(error, kind)), 500)
        return refusal_page(request, status=status, message=error.message, hint=error.hint)


def refusal_page(
    request: HttpRequest, *, status: int, message: str, hint: str = ""
) -> HttpResponse:
    """Return the page for a refusal, or only its words when a part of a page asked."""
    is_part = bool(getattr(request, "htmx", False))
    template = "refusal/_words.html" if is_part else "refusal/page.html"
    context = {"status": status, "title": _TITLES[status], "message": message, "hint": hint}
    return render(request, template, context, status=status)


def bad_request(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:
    """Answer a request that the framework refused to read."""
    name = type(exception).__name__
    if name in {"RequestDataTooBig", "TooManyFieldsSent", "TooManyFilesSent"}:
        message = "More arrived than a formula can hold: the limit is 4 MB and 5,000 fields."
        hint = "Go back: what you typed is still in the page. Remove what does not belong there."
        return refusal_page(request, status=413, message=message, hint=hint)
    message = "The request was not complete or not well formed."
    return refusal_page(request, status=400, message=message, hint="Go back and send it again.")


def not_found(request: HttpRequest, exception: Exception | None = None) -> HttpResponse:  # noqa: ARG001
    """Answer an address that leads nowhere."""
    message = "There is no page at this address."
    hint = "It may have been mistyped, or what it named was deleted."
    return refusal_page(request, status=404, message=message, hint=hint)


def server_error(request: HttpRequest) -> HttpResponse:
    """Answer when our own code failed."""
    message = "The page could not be made. Saved versions are safe."
    hint = "Go back: what you typed is still in the page. If it happens again, report it."
    return refusal_page(request, status=500, message=message, hint=hint)


def csrf_failure(request: HttpRequest, reason: str = "") -> HttpResponse:  # noqa: ARG001
    """Answer a form that did not come from our own page, or whose page is too old."""
    message = "This form was opened too long ago, or cookies are switched off."
    hint = "Go back, reload the page and send it again; copy long text first."
    return refusal_page(request, status=403, message=message, hint=hint)
