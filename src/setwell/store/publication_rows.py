"""What was published, and links to share, between database rows and typed results."""

import datetime as dt
from dataclasses import dataclass

from setwell.errors import NotFoundError
from setwell.store.rows import PublicationRow, PublishedVersionRow, ShareLinkRow, VersionRow


@dataclass(frozen=True, slots=True)
class StoredPublishing:
    """One version as it was published."""

    number: int
    title: str
    content_hash: str
    published_at: dt.datetime
    changes: tuple[str, ...]
    times: dict[str, float]
    remark: str


@dataclass(frozen=True, slots=True)
class StoredPublication:
    """The page of one formula, with its published versions, the newest first."""

    formula_id: int
    name: str
    published_at: dt.datetime
    withdrawn_at: dt.datetime | None
    reason: str
    versions: tuple[StoredPublishing, ...]

    @property
    def newest(self) -> StoredPublishing:
        """The version that the page shows."""
        return self.versions[0]


@dataclass(frozen=True, slots=True)
class StoredShareLink:
    """A link that shows one version to whoever has it."""

    id: int
    formula_id: int
    number: int
    title: str
    token: str
    note: str
    created_at: dt.datetime
    expires_at: dt.datetime | None
    revoked_at: dt.datetime | None


def publication_rows() -> tuple[StoredPublication, ...]:
    """Return every page that was ever published, the last published first."""
    rows = PublicationRow.objects.prefetch_related("versions__version")
    found = (_publication(row) for row in rows)
    return tuple(sorted(found, key=lambda one: one.newest.published_at, reverse=True))


def publication_row(*, formula_id: int) -> StoredPublication | None:
    """Return the page of a formula; None when it was never published."""
    row = PublicationRow.objects.filter(formula__id=formula_id).first()
    return None if row is None else _publication(row)


def publication_names() -> frozenset[str]:
    """Return the names that are taken."""
    return frozenset(PublicationRow.objects.values_list("name", flat=True))


def publishing_add(
    *,
    formula_id: int,
    number: int,
    name: str,
    changes: tuple[str, ...],
    times: dict[str, float],
    remark: str,
    moment: dt.datetime,
) -> None:
    """Write that a version was published; the first time also its page."""
    page, _ = PublicationRow.objects.get_or_create(
        formula_id=formula_id, defaults={"name": name, "published_at": moment}
    )
    PublicationRow.objects.filter(pk=page.pk).update(withdrawn_at=None, reason="")
    PublishedVersionRow.objects.create(
        publication=page,
        version=_version(formula_id, number),
        changes=list(changes),
        times=times,
        remark=remark,
        published_at=moment,
    )


def publication_withdraw(*, formula_id: int, reason: str, moment: dt.datetime) -> None:
    """Write that a page was withdrawn."""
    PublicationRow.objects.filter(formula_id=formula_id).update(withdrawn_at=moment, reason=reason)


def share_link_add(
    *,
    formula_id: int,
    number: int,
    token: str,
    note: str,
    moment: dt.datetime,
    expires_at: dt.datetime | None,
) -> StoredShareLink:
    """Write a new link."""
    row = ShareLinkRow.objects.create(
        version=_version(formula_id, number),
        token=token,
        note=note,
        created_at=moment,
        expires_at=expires_at,
    )
    return _link(row)


def share_link_rows(*, formula_id: int) -> tuple[StoredShareLink, ...]:
    """Return all links of a formula, the newest first; revoked ones too."""
    rows = ShareLinkRow.objects.filter(version__formula_id=formula_id).select_related("version")
    return tuple(_link(row) for row in rows.order_by("-pk"))


def share_link_row(*, token: str) -> StoredShareLink | None:
    """Return the link with this token."""
    row = ShareLinkRow.objects.filter(token=token).select_related("version").first()
    return None if row is None else _link(row)


def share_link_revoke(*, formula_id: int, link_id: int, moment: dt.datetime) -> None:
    """Write that a link is revoked; one that was revoked before keeps its moment."""
    rows = ShareLinkRow.objects.filter(id=link_id, version__formula_id=formula_id)
    if not rows.exists():
        raise NotFoundError("There is no such link of this formula.")
    rows.filter(revoked_at=None).update(revoked_at=moment)


def share_links_revoke(*, formula_id: int, moment: dt.datetime) -> int:
    """Write that all links of a formula are revoked; return how many that ended."""
    rows = ShareLinkRow.objects.filter(version__formula__id=formula_id, revoked_at=None)
    ids = list(rows.exclude(expires_at__lte=moment).values_list("pk", flat=True))
    return int(ShareLinkRow.objects.filter(pk__in=ids).update(revoked_at=moment))


def _version(formula_id: int, number: int) -> VersionRow:
    row = VersionRow.objects.filter(formula_id=formula_id, number=number).first()
    if row is None:
        raise NotFoundError(f"There is no version {number} of formula {formula_id}.")
    return row


def _publication(row: PublicationRow) -> StoredPublication:
    versions = [_publishing(one) for one in row.versions.select_related("version").order_by("-pk")]
    return StoredPublication(
        formula_id=row.formula_id,
        name=row.name,
        published_at=row.published_at,
        withdrawn_at=row.withdrawn_at,
        reason=row.reason,
        versions=tuple(versions),
    )


def _publishing(row: PublishedVersionRow) -> StoredPublishing:
    return StoredPublishing(
        number=row.version.number,
        title=row.version.title,
        content_hash=row.version.content_hash,
        published_at=row.published_at,
        changes=tuple(row.changes),
        times=dict(row.times),
        remark=row.remark,
    )


def _link(row: ShareLinkRow) -> StoredShareLink:
    return StoredShareLink(
        id=row.pk,
        formula_id=row.version.formula_id,
        number=row.version.number,
        title=row.version.title,
        token=row.token,
        note=row.note,
        created_at=row.created_at,
        expires_at=row.expires_at,
        revoked_at=row.revoked_at,
    )
