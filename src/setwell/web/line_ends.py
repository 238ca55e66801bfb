"""No line of a page ends between a number and its unit."""

from collections.abc import Callable

from django.http import HttpRequest, HttpResponse

from setwell.documents.html_unbroken import html_unbroken

Answer = Callable[[HttpRequest], HttpResponse]


def whole_figures(get_response: Answer) -> Answer:
    """Keep numbers and units together in every page, whoever wrote the sentence."""

    def middleware(request: HttpRequest) -> HttpResponse:
        response = get_response(request)
        is_page = response.headers.get("Content-Type", "").startswith("text/html")
        if is_page and not response.streaming:
            response.content = html_unbroken(response.content.decode()).encode()
        return response

    return middleware
