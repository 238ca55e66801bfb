"""Database tables. Only the other modules of this room use them."""

from django.db import models

from setwell.domain.formula import Goal

HASH_LENGTH = 64


class FormulaRow(models.Model):
    """A formula through all its versions; what it says is in the versions."""

    created_at = models.DateTimeField()
    archived = models.BooleanField(default=False)

    def __str__(self) -> str:
        return f"formula {self.pk}"


class VersionRow(models.Model):
    """One saved version. Written once: a trigger in the database refuses any update."""

    formula = models.ForeignKey(FormulaRow, on_delete=models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    content_hash = models.CharField(max_length=HASH_LENGTH, db_index=True)
    document = models.TextField()
    title = models.CharField(max_length=120)
    title_key = models.CharField(max_length=400, db_index=True)
    goal = models.CharField(max_length=20, default=Goal.UNSPECIFIED.value)
    note = models.TextField(blank=True, default="")
    parent_number = models.PositiveIntegerField(null=True)
    saved_at = models.DateTimeField()
    headline = models.TextField(blank=True, default="")

    class Meta:
        """What the database itself refuses."""

        constraints = (
            models.UniqueConstraint(fields=("formula", "number"), name="version_number_once"),
            models.CheckConstraint(
                condition=models.Q(number__gte=1), name="version_number_from_one"
            ),
            models.CheckConstraint(
                condition=models.Q(parent_number__isnull=True)
                | models.Q(parent_number__lt=models.F("number")),
                name="version_parent_is_earlier",
            ),
        )

    def __str__(self) -> str:
        return f"{self.title}, version {self.number}"


class VersionReadingRow(models.Model):
    """A pH reading of one saved version. It can be deleted, but a trigger refuses any update."""

    version = models.ForeignKey(VersionRow, on_delete=models.PROTECT, related_name="readings")
    document = models.TextField()
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"reading {self.pk} of {self.version}"


class TextureReadingRow(models.Model):
    """A texture measurement of one saved version. Written once: a trigger refuses any update."""

    version = models.ForeignKey(
        VersionRow, on_delete=models.PROTECT, related_name="texture_readings"
    )
    document = models.TextField()
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"texture reading {self.pk} of {self.version}"


class TextureRulingRow(models.Model):
    """Whether a texture reading counts, and why; the newest ruling holds. Written once."""

    reading = models.ForeignKey(TextureReadingRow, on_delete=models.PROTECT, related_name="rulings")
    counts = models.BooleanField()
    reason = models.TextField(blank=True, default="")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"ruling {self.pk} on {self.reading}"


class LotCheckRow(models.Model):
    """A lot in a standard test. Written once; `agent` is the key of its table agent."""

    agent = models.CharField(max_length=120, db_index=True)
    document = models.TextField()
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"lot check {self.pk} of {self.agent}"


class LotCheckRulingRow(models.Model):
    """Whether a lot check counts, and why; the newest ruling holds. Written once."""

    reading = models.ForeignKey(LotCheckRow, on_delete=models.PROTECT, related_name="rulings")
    counts = models.BooleanField()
    reason = models.TextField(blank=True, default="")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"ruling {self.pk} on {self.reading}"


class ProcessPlanRow(models.Model):
    """How one saved version is heated and cooled; the newest plan holds. Written once."""

    version = models.ForeignKey(VersionRow, on_delete=models.PROTECT, related_name="process_plans")
    document = models.TextField()
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"process plan {self.pk} of {self.version}"


class ProbeUploadRow(models.Model):
    """A logger's file on its way to a log, kept while its reading is corrected."""

    version = models.ForeignKey(VersionRow, on_delete=models.CASCADE, related_name="probe_uploads")
    file_name = models.CharField(max_length=200, blank=True, default="")
    raw = models.BinaryField()
    received_at = models.DateTimeField(db_index=True)

    def __str__(self) -> str:
        return f"probe upload {self.pk}"


class ProbeLogRow(models.Model):
    """A probe's log of one saved version, with the file itself packed. Written once."""

    version = models.ForeignKey(VersionRow, on_delete=models.PROTECT, related_name="probe_logs")
    title = models.CharField(max_length=120)
    document = models.TextField()
    raw = models.BinaryField(default=b"")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"probe log {self.pk}: {self.title}"


class ProbeSampleRow(models.Model):
    """One reading that was typed in at the bench, with the moment it came. Written once.

    A later row for the same probe and second stands for it; without a temperature it strikes it.
    """

    log = models.ForeignKey(ProbeLogRow, on_delete=models.PROTECT, related_name="samples")
    probe = models.PositiveSmallIntegerField()
    seconds = models.FloatField()
    celsius = models.FloatField(null=True)
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"sample {self.pk} of {self.log}"


class ProbeRulingRow(models.Model):
    """Whether a probe log counts, and why; the newest ruling holds. Written once."""

    log = models.ForeignKey(ProbeLogRow, on_delete=models.PROTECT, related_name="rulings")
    counts = models.BooleanField()
    reason = models.TextField(blank=True, default="")
    recorded_at = models.DateTimeField()

    def __str__(self) -> str:
        return f"ruling {self.pk} on {self.log}"


class BriefRow(models.Model):
    """A brief through all its versions; what it says is in the versions."""

    created_at = models.DateTimeField()
    put_away = models.BooleanField(default=False)

    def __str__(self) -> str:
        return f"brief {self.pk}"


class BriefVersionRow(models.Model):
    """A brief as it was saved once; the newest holds. Written once: a trigger refuses updates."""

    brief = models.ForeignKey(BriefRow, on_delete=models.PROTECT, related_name="versions")
    number = models.PositiveIntegerField()
    content_hash = models.CharField(max_length=HASH_LENGTH, db_index=True)
    document = models.TextField()
    title = models.CharField(max_length=120)
    title_key = models.CharField(max_length=400, db_index=True)
    saved_at = models.DateTimeField()

    class Meta:
        """What the database itself refuses."""

        constraints = (
            models.UniqueConstraint(fields=("brief", "number"), name="brief_number_once"),
        )

    def __str__(self) -> str:
        return f"{self.title}, version {self.number}"


class ShelfRow(models.Model):
    """One thing of the kitchen's own, as a document; names are unique whatever their case."""

    name = models.CharField(max_length=300)
    name_key = models.CharField(max_length=900, unique=True)
    document = models.TextField()
    updated_at = models.DateTimeField()

    class Meta:
        """Each shelf has its own table."""

        abstract = True

    def __str__(self) -> str:
        return self.name


class FoodRow(ShelfRow):
    """A food of the kitchen's own."""


class AgentRow(ShelfRow):
    """A texture agent of the kitchen's own."""


class LotRow(ShelfRow):
    """A lot of an agent."""


class PriceRow(ShelfRow):
    """A price of a table food or agent."""


class MoldRow(ShelfRow):
    """A mold."""


class VesselRow(ShelfRow):
    """A pot, pan, bowl or pitcher."""


class HobRow(ShelfRow):
    """A hob, ring or steam jacket."""


class CoolerRow(ShelfRow):
    """A fridge or another cold place."""


class ReadingRow(ShelfRow):
    """A pH reading of a food, by its lot."""


class PricePaidRow(models.Model):
    """What a material cost from a moment on; an empty document: no longer known.

    Written once: a trigger refuses updates.
    """

    shelf = models.CharField(max_length=20)
    name = models.CharField(max_length=300)
    name_key = models.CharField(max_length=900)
    currency = models.CharField(max_length=8)
    document = models.TextField()
    recorded_at = models.DateTimeField()

    class Meta:
        """Asked for by what was bought, the newest first."""

        indexes = (models.Index(fields=("shelf", "name_key"), name="price_paid_of"),)

    def __str__(self) -> str:
        return f"{self.name}, {self.recorded_at:%Y-%m-%d}"


class SettingRow(models.Model):
    """A named setting of this kitchen."""

    key = models.CharField(max_length=60, unique=True)
    value = models.TextField()

    def __str__(self) -> str:
        return self.key


# Tables of their own file, as this one is long; the framework finds them through this module.
from setwell.store import label_models, photo_models, publication_models  # noqa: E402, F401
