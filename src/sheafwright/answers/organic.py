"""May this crop be called organic, or in conversion?

It goes by the day of sowing, not of harvest: land two years under conversion when the
seed went in. Nothing is claimed here for a certificate; the control body decides.
"""

import dataclasses
import datetime

from sheafwright.answers import wording
from sheafwright.answers.working import GIVEN, YOU, Step, step_from_rows, steps_to_json
from sheafwright.core.errors import OutOfRange
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.telling import mark, say

ORGANIC, IN_CONVERSION, NOT_ORGANIC = "organic", "in_conversion", "not_organic"
MONTHS_A_YEAR = 12
CONVERTING = mark(
    "In conversion and not organic: sown on {day}, and a crop there is organic if sown "
    "from {organic} on."
)
STANDING = mark(
    "Not organic: sown on {day}, and a crop there is organic if sown from {organic} "
    "on; it may be sold as in conversion if cut from {label} on."
)
TOO_SOON = mark(
    "Not organic: sown on {day}, and a crop there is organic if sown from {organic} "
    "on; it was cut before {label}, too soon to be sold as in conversion."
)


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
        sown = wording.date(self.sown)
        if self.conversion_from is None:
            return say(
                "Not organic: sown on {day} on land that is not farmed organically.",
                day=sown,
            )
        if self.status == ORGANIC:
            return say(
                "Organic: sown on {day}, and conversion counts from {since}.",
                day=sown,
                since=wording.date(self.conversion_from),
            )
        return self._too_early(sown)

    def _too_early(self, sown):
        organic = wording.date(self.organic_from)
        if self.status == IN_CONVERSION:
            return say(CONVERTING, day=sown, organic=organic)
        label = wording.date(self.label_from)
        says = STANDING if self.cut is None else TOO_SOON
        return say(says, day=sown, organic=organic, label=label)

    @property
    def working(self):
        """How it was worked out: every `Step`."""
        years, months = shipped("organic")["conversion"].values()
        return (
            Step(self._conversion(), YOU, GIVEN),
            step_from_rows(
                say(
                    "Land is farmed organically for {n} years before an organic crop "
                    "is sown.",
                    n=years.value,
                ),
                years,
            ),
            step_from_rows(
                say(
                    "A crop cut after {n} months may be sold as in conversion.",
                    n=months.value,
                ),
                months,
            ),
        )

    def _conversion(self):
        if self.conversion_from is None:
            return say("No conversion is recorded.")
        since = wording.date(self.conversion_from)
        return say("Conversion counts from {day}.", day=since)

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
            "The crop was cut on {cut}; it should be after it was sown, on {sown}.",
            cut=wording.date(cut),
            sown=wording.date(sown),
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
