"""The table of what a kitchen chose for its labels."""

from django.db import models


class LabelChoicesRow(models.Model):
    """What was chosen for the label of one version in one market; the newest row holds.

    Written once: a trigger refuses updates.
    """

    version = models.ForeignKey(
        "store.VersionRow", on_delete=models.PROTECT, related_name="label_choices"
    )
    market = models.CharField(max_length=8)
    document = models.TextField()
    recorded_at = models.DateTimeField()

    class Meta:
        """How the framework calls this table."""

        app_label = "store"

    def __str__(self) -> str:
        return f"label choices {self.pk} of {self.version}"
