"""May this crop be called organic, or in conversion?

It goes by the day of sowing, not of harvest: land two years under conversion when the
seed went in. Nothing is claimed here for a certificate; the control body decides.
"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.tables import shipped

ORGANIC, IN_CONVERSION, NOT_ORGANIC = "organic", "in_conversion", "not_organic"
MONTHS_A_YEAR = 12


@dataclasses.dataclass(frozen=True)
class OrganicStatus:
    """The answer."""

    conversion_from: datetime.date | None
    """None where the land isn't farmed organically."""
    sown: datetime.date
    cut: datetime.date | None
    """None while it stands."""
    organic_from: datetime.date | None
    """A crop sown from then on is organic."""
    label_from: datetime.date | None
    """A crop cut from then on may be sold as in conversion."""

    @property
    def status(self):
        """Never more than is sure: a standing crop counts as cut when it was sown."""
        if self.conversion_from is None:
            return NOT_ORGANIC
        if self.sown >= self.organic_from:
            return ORGANIC
        cut = self.cut or self.sown
        return IN_CONVERSION if cut >= self.label_from else NOT_ORGANIC

    @property
    def sentence(self):
        """The answer in a sentence."""
        sown = f"sown on {wording.date(self.sown)}"
        if self.conversion_from is None:
            return f"Not organic: {sown} on land that is not farmed organically."
        since = f"conversion counts from {wording.date(self.conversion_from)}"
        if self.status == ORGANIC:
            return f"Organic: {sown}, and {since}."
        too_early = (
            f"{sown}, and a crop there is organic if sown from "
            f"{wording.date(self.organic_from)} on"
        )
        if self.status == IN_CONVERSION:
            return f"In conversion and not organic: {too_early}."
        return f"Not organic: {too_early}{self._label()}."

    def _label(self):
        label = wording.date(self.label_from)
        if self.cut is None:
            return f"; it may be sold as in conversion if cut from {label} on"
        return f"; it was cut before {label}, too soon to be sold as in conversion"

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        years, months = shipped("organic")["conversion"].values()
        since = self.conversion_from and wording.date(self.conversion_from)
        return (
            Step(
                f"Conversion counts from {since}."
                if since
                else "No conversion is recorded.",
                "You",
                GIVEN,
            ),
            step_from_rows(
                f"Land is farmed organically for {years.value} years before an organic "
                f"crop is sown.",
                years,
            ),
            step_from_rows(
                f"A crop cut after {months.value} months may be sold as in conversion.",
                months,
            ),
        )

    def to_json(self):
        """The answer as it leaves Python."""
        dates = {
            "conversion_from": self.conversion_from,
            "sown": self.sown,
            "cut": self.cut,
            "organic_if_sown_from": self.organic_from,
            "label_if_cut_from": self.label_from,
        }
        return {
            "sentence": self.sentence,
            "status": self.status,
            **{name: date and date.isoformat() for name, date in dates.items()},
            "working": steps_to_json(self.working),
        }


def organic_status(conversion_from, sown, cut=None):
    """The `OrganicStatus` of a crop.

    Parameters
    ----------
    conversion_from : datetime.date or None
        From when the conversion of its land counts; long ago for land long organic.
    sown : datetime.date
    cut : datetime.date, optional
    """
    if cut is not None and cut <= sown:
        raise OutOfRange(
            f"The crop was cut on {wording.date(cut)}; it should be after it was sown, "
            f"on {wording.date(sown)}."
        )
    if conversion_from is None:
        return OrganicStatus(None, sown, cut, None, None)
    rows = shipped("organic")["conversion"]
    years, months = rows["years_before_sowing"].value, rows["months_before_label"].value
    return OrganicStatus(
        conversion_from=conversion_from,
        sown=sown,
        cut=cut,
        organic_from=_after(conversion_from, years * MONTHS_A_YEAR),
        label_from=_after(conversion_from, months),
    )


def _after(date, months):
    """The day so many months on; 1 March where February lacks its 29th."""
    years, month = divmod(date.month - 1 + months, MONTHS_A_YEAR)
    first = date.replace(year=date.year + years, month=month + 1, day=1)
    return first + datetime.timedelta(date.day - 1)
