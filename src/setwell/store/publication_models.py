"""Tables of what was published: pages of formulas, their versions, and links to share."""

from django.db import models


class PublicationRow(models.Model):
    """The page of one formula; its name never changes, so that links to it stay good."""

    formula = models.OneToOneField(
        "store.FormulaRow", on_delete=models.PROTECT, related_name="publication"
    )
    name = models.CharField(max_length=80, unique=True)
    published_at = models.DateTimeField()
    withdrawn_at = models.DateTimeField(null=True)
    reason = models.CharField(max_length=500, blank=True, default="")

    class Meta:
        """How the framework calls this table."""

        app_label = "store"

    def __str__(self) -> str:
        return f"publication {self.name}"


class PublishedVersionRow(models.Model):
    """One published version, with what it changed. Written once: a trigger refuses updates."""

    publication = models.ForeignKey(
        PublicationRow, on_delete=models.PROTECT, related_name="versions"
    )
    version = models.ForeignKey("store.VersionRow", on_delete=models.PROTECT)
    changes = models.JSONField(default=list)
    times = models.JSONField(default=dict)
    remark = models.TextField(blank=True, default="")
    published_at = models.DateTimeField()

    class Meta:
        """How the framework calls this table."""

        app_label = "store"

    def __str__(self) -> str:
        return f"{self.publication}, published {self.published_at:%Y-%m-%d}"


class ShareLinkRow(models.Model):
    """A link that shows one version to whoever has it, until it is revoked or has expired."""

    version = models.ForeignKey("store.VersionRow", on_delete=models.PROTECT)
    token = models.CharField(max_length=64, unique=True)
    note = models.CharField(max_length=120, blank=True, default="")
    created_at = models.DateTimeField()
    expires_at = models.DateTimeField(null=True)
    revoked_at = models.DateTimeField(null=True)

    class Meta:
        """How the framework calls this table."""

        app_label = "store"

    def __str__(self) -> str:
        return f"share link {self.pk}"
