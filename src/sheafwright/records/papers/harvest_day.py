"""The harvest-day sheet: the fields to cut, or all that stand where none is named."""

from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.accounts.selectors import people_at_work
from sheafwright.documents.harvest_day import FieldToCut, HarvestDay
from sheafwright.feeds.crop import sign_ladders
from sheafwright.feeds.units import show
from sheafwright.records.clock import today
from sheafwright.records.selectors.cutting import crops_standing

MOST_FIELDS = 12
"""More than a day's cutting on any holding."""


def harvest_day_of(*, holding, units):
    """The `HarvestDay` of today."""
    day, crops = today(holding), crops_standing(holding=holding)
    fit = [crop for crop in crops if crop.action == "cut"]
    hands = tuple(person.name for person in people_at_work(holding=holding))
    return HarvestDay(
        holding=holding.name,
        day=date_format(day, "l j F Y"),
        made_on=day,
        fields=tuple(
            _field(crop, hands, units) for crop in (fit or crops)[:MOST_FIELDS]
        ),
    )


def _field(crop, hands, units):
    return FieldToCut(
        name=crop.sowing.field.name,
        about=_about(crop.sowing, units),
        advice=crop.sentence,
        hands=hands,
        signs=(
            *_seen(crop.sowing),
            *(_to_see(kind, ladder) for kind, ladder in sign_ladders().items()),
        ),
    )


def _about(sowing, units):
    said = [show(sowing.area_ha, "area", units), sowing.seed_lot.variety]
    cut = sum(each.area_ha for each in sowing.cuts.all())
    if cut:
        said.append(_("%(area)s cut") % {"area": show(cut, "area", units)})
    return ", ".join(said)


def _seen(sowing):
    """The last signs seen, if any were."""
    last = max(
        (each for each in sowing.observations.all() if each.signs),
        key=lambda each: (each.date, each.made_at),
        default=None,
    )
    if last:
        signs = (f"{_plain(kind)} {level}" for kind, level in last.signs.items())
        day = date_format(last.date, "j F")
        yield _("seen on %(day)s: %(signs)s") % {"day": day, "signs": ", ".join(signs)}


def _to_see(kind, ladder):
    return f"{_plain(kind)}: {' / '.join(ladder.levels)}"


def _plain(kind):
    return kind.replace("_", " ")
