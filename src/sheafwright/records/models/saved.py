"""Answers worked out by the worker, for pages to show."""

import uuid

from django.db import models

from sheafwright.feeds.telling import Telling
from sheafwright.records.reader import reads


class SavedAnswer(models.Model):
    """One answer, with all that is needed to draw it again."""

    id = models.UUIDField(primary_key=True, default=uuid.uuid4, editable=False)
    holding = models.ForeignKey(
        "accounts.Holding", models.CASCADE, related_name="saved_answers"
    )
    question = models.CharField(max_length=20)
    """Which answer: outlook, stooks, rain, lodging, yield, cropping, crew, turns."""
    subject = models.UUIDField()
    """What it is about: a sowing, a stook set, the weather record, the holding."""
    day = models.DateField()
    inputs_sha256 = models.CharField(max_length=64)
    tables_sha256 = models.CharField(max_length=64)
    engine_version = models.CharField(max_length=20)
    seed = models.PositiveIntegerField()
    said = models.JSONField(decoder=Telling)
    """The answer's own JSON, told to whoever reads; its refusal under ``refused``."""
    chart = models.TextField(blank=True)
    """SVG, in English and metric."""
    charts = models.JSONField(default=dict)
    """SVG by reader, for those who have another; see `sheafwright.records.reader`."""
    made_at = models.DateTimeField(auto_now_add=True)

    @property
    def drawing(self):
        """The chart as whoever reads now has it."""
        return self.charts.get(reads(), self.chart)

    class Meta:
        indexes = (models.Index(fields=("holding", "question", "subject", "-made_at")),)
        constraints = (
            models.UniqueConstraint(
                fields=("question", "subject", "inputs_sha256"), name="worked_out_once"
            ),
        )
