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
            told = "It is far from what the tables expect."
            if len(dispute.readings) > 1:
                told = f"It contradicts other measurements. {dispute.apart}".strip()
            messages.warning(request, f"{told} What to do stands below.")
    remarks = (use.remark for use in readings if is_new(use) and not use.is_counted)
    for remark in dict.fromkeys(remark for remark in remarks if remark):
        messages.warning(request, remark)
