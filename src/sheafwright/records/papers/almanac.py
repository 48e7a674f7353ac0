"""The season almanac: every crop of a harvest, with its year and what is advised."""

from django.core.exceptions import ValidationError
from django.db.models import Max
from django.utils.formats import date_format
from django.utils.translation import gettext as _

from sheafwright.documents.almanac import Almanac, FieldPage, Milestone
from sheafwright.feeds.telling import first_sentence
from sheafwright.feeds.units import show
from sheafwright.records.clock import today
from sheafwright.records.models import Sowing
from sheafwright.records.selectors.crop import sowings_of
from sheafwright.records.selectors.cutting import Crop, crops_standing
from sheafwright.records.selectors.year import field_years


def almanac_of(*, holding, units):
    """The `Almanac` of the last harvest that was sown for."""
    season = _season(holding)
    sowings = list(sowings_of(holding=holding, harvest_year=season))
    standing = {crop.sowing.pk: crop for crop in crops_standing(holding=holding)}
    years = field_years(sowings)
    return Almanac(
        holding=holding.name,
        season=_("harvest of %(year)d") % {"year": season},
        made_on=today(holding),
        fields=tuple(
            _page(sowing, standing.get(sowing.pk), years[sowing.pk], units)
            for sowing in sorted(sowings, key=lambda sowing: sowing.field.name)
        ),
    )


def _season(holding):
    sown = Sowing.objects.filter(holding=holding, date__lte=today(holding))
    season = sown.aggregate(year=Max("harvest_year"))["year"]
    if season is None:
        raise ValidationError(
            _("Nothing is sown yet: the almanac has a page for each crop.")
        )
    return season


def _page(sowing, crop, year, units):
    sentence, advice = _said(crop, year)
    return FieldPage(
        name=sowing.field.name,
        about=_("%(area)s of %(variety)s, sown %(day)s")
        % {
            "area": show(sowing.area_ha, "area", units),
            "variety": sowing.seed_lot.variety,
            "day": date_format(sowing.date, "j F Y"),
        },
        year=tuple(_milestone(step) for step in year),
        sentence=sentence,
        advice=advice,
        working=tuple(step["says"] for step in crop.working)
        if crop and crop.is_answered
        else (),
    )


def _said(crop: Crop | None, year):
    """The answer's first sentence, and the rest of it."""
    if crop is None:
        cut = next((step.known for step in year if step.name == "cut"), None)
        began = cut and date_format(cut, "j F")
        return (_("Cut from %(day)s on.") % {"day": began} if cut else ""), ""
    if not crop.sentence:
        return _("No answer is worked out for it yet."), ""
    return first_sentence(crop.sentence)


def _milestone(step):
    # The names of the steps are the words themselves; web/years.py has them translated.
    name = _(step.name)
    if step.known:
        return Milestone(name, date_format(step.known, "j M"), known=True)
    if step.expected is None:
        return Milestone(name, "", known=False)
    spread = (step.expected.late - step.expected.early).days / 2
    when = f"{date_format(step.expected.likely, 'j M')} ±{spread:.0f}"
    return Milestone(name, when, known=False)
