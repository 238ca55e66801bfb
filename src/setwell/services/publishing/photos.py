"""Photos of a formula on their way to its published page."""

from setwell.documents.published_card import PublishedPhoto


def photos_published(*, formula_id: int) -> tuple[PublishedPhoto, ...]:
    """Return the photos of a formula; until photos are kept with formulas there are none."""
    del formula_id
    return ()
