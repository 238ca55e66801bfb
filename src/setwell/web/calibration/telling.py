"""Messages after recording: what a new reading contradicts, and why it moves nothing."""

from collections.abc import Collection, Iterable

from django.contrib import messages
from django.http import HttpRequest

from setwell.services.results import ReadingUse, TextureDispute


def disputes_tell(
    request: HttpRequest,
    *,
    readings: Iterable[ReadingUse],
    disputes: Iterable[TextureDispute],
    ids: Collection[int],
    is_lot_check: bool,
) -> None:
    """Warn of conflicts that new readings take part in, and of those that count for nothing."""

    def is_new(use: ReadingUse) -> bool:
        return use.is_lot_check is is_lot_check and use.id in ids

    for dispute in disputes:
        if any(is_new(use) for use in dispute.readings):
            messages.warning(request, f"{dispute.sentence} {dispute.action}")
    remarks = (use.remark for use in readings if is_new(use) and not use.is_counted)
    for remark in dict.fromkeys(remark for remark in remarks if remark):
        messages.warning(request, remark)
