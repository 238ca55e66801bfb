"""The table of photos. Only the other modules of this room use it."""

from django.db import models

# A SHA-256 in hexadecimal digits.
_KEY_LENGTH = 64


class PhotoRow(models.Model):
    """A photo of a dish or of one of its steps, made small; one for each place.

    `place` is the key of the words of its step, empty for the dish itself; `place_text` keeps
    these words, to tell what the photo showed once the step says something else.
    """

    formula = models.ForeignKey("store.FormulaRow", on_delete=models.PROTECT, related_name="photos")
    place = models.CharField(max_length=_KEY_LENGTH, blank=True, default="")
    place_text = models.CharField(max_length=300, blank=True, default="")
    caption = models.CharField(max_length=200, blank=True, default="")
    taken_of = models.PositiveIntegerField()
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    jpeg = models.BinaryField()
    recorded_at = models.DateTimeField()

    class Meta:
        """What the database itself refuses, and how the framework calls this table."""

        app_label = "store"
        constraints = (
            models.UniqueConstraint(fields=("formula", "place"), name="photo_place_once"),
        )

    def __str__(self) -> str:
        return f"photo {self.pk} of {self.formula}"
