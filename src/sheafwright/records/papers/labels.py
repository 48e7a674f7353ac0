"""Labels that lead from a bundle, bale or sack back to its field."""

from django.utils.translation import gettext as _

from sheafwright.answers.asked_grades import own_words
from sheafwright.answers.organic import IN_CONVERSION, NOT_ORGANIC, ORGANIC
from sheafwright.documents.labels import Label, LabelSheet
from sheafwright.records.clock import today
from sheafwright.records.grading_wording import on_a_label
from sheafwright.records.models import Place
from sheafwright.records.models.store import STRAW
from sheafwright.records.papers.standing import certificate_on, may_be_sold_as
from sheafwright.records.selectors.grading import graded
from sheafwright.records.selectors.milled import not_organic_by_mill
from sheafwright.records.selectors.walk import sown_behind


def labels_of(*, holding, lots, count, address_of):
    """The `LabelSheet` of so many labels a lot.

    Parameters
    ----------
    holding : Holding
    lots : iterable of Lot
    count : int
    address_of : callable
        From a lot to the whole address of its page.
    """
    day = today(holding)
    certificate = certificate_on(holding=holding, begins=day, ends=day)
    lots = list(lots)
    grades = graded(holding=holding, lots=lots)
    behind = sowings_of(lots)
    labels = [
        _label(lot, behind[lot.pk], grades[lot.pk], certificate, address_of(lot))
        for lot in lots
    ]
    return LabelSheet(
        holding=holding.name,
        made_on=day,
        labels=tuple(label for label in labels for _n in range(count)),
    )


def sowings_of(lots):
    """Id of each of these lots to the sowings that may be in it."""
    ids = [lot.pk for lot in lots]
    places = Place.objects.filter(kind=Place.Kind.LOT, subject__in=ids)
    return dict.fromkeys(ids, ()) | sown_behind(places)


def sowings_behind(lot):
    """The sowings that may be in a lot."""
    return sowings_of([lot])[lot.pk]


def lot_may_be_sold_as(lot, sowings):
    """As its sowings may be, and of flour and bran as who milled it was certified."""
    if not_organic_by_mill([lot]):
        return NOT_ORGANIC
    return may_be_sold_as(sowings)


def _grade(lot, how_good):
    """As its stems or a handful have it, or else as it was called at the drum.

    What was called in words of one's own stands beside what was measured.
    """
    if lot.set_apart:
        return _("set apart: not for sale")
    if how_good.stems is None and how_good.fit is None:
        return lot.grade
    return ", ".join(filter(None, (*own_words(lot.grade), on_a_label(how_good))))


def _label(lot, sowings, how_good, certificate, address):
    fields = sorted({sowing.field.name for sowing in sowings})
    return Label(
        lot=lot.code,
        material=lot.get_kind_display().capitalize(),
        grade=_grade(lot, how_good),
        field=", ".join(fields),
        variety=lot.variety,
        harvest_year=str(lot.harvest_year),
        organic=_organic(lot, sowings, certificate),
        walk_back_url=address,
    )


def _organic(lot, sowings, certificate):
    """Said only under a certificate that holds, and that straw is on if it is straw."""
    if certificate is None or (lot.kind in STRAW and not certificate.covers_straw):
        return ""
    said = {
        ORGANIC: certificate.code,
        IN_CONVERSION: _("not yet: in conversion, %(code)s")
        % {"code": certificate.code},
    }
    return said.get(lot_may_be_sold_as(lot, sowings), "")
