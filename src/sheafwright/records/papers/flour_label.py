"""What stands on a bag of flour or bran."""

from django.utils.translation import gettext as _

from sheafwright.answers.organic import IN_CONVERSION, ORGANIC
from sheafwright.documents.flour_label import FlourLabel, FlourLabels
from sheafwright.feeds.units import show
from sheafwright.records.clock import today
from sheafwright.records.models import Flour, Letterhead, Lot
from sheafwright.records.papers.labels import lot_may_be_sold_as, sowings_behind
from sheafwright.records.papers.standing import certificate_on
from sheafwright.records.selectors.milled import millings_of

MOST = 96
"""Labels at a time: twelve sheets."""
UNITED_KINGDOM = ("GB", "XI")
"""How codes of its control bodies begin."""


def flour_labels_of(*, bags, count, address_of):
    """The `FlourLabels` of bags that were filled.

    Parameters
    ----------
    bags : FlourBags
    count : int or None
        A label a bag, and no more than are made at a time, if nobody says.
    address_of : callable
        From a lot to the whole address of its page.
    """
    holding, lot = bags.holding, bags.lot
    run = millings_of([lot]).get(lot.pk)
    return FlourLabels(
        holding=holding.name,
        made_on=today(holding),
        label=_label(bags, run, address_of(lot)),
        count=min(count or bags.bags, MOST),
    )


def _label(bags, run, address):
    lot, holding = bags.lot, bags.holding
    is_flour = lot.kind == Lot.Kind.FLOUR
    return FlourLabel(
        name=_name(lot, run),
        variety=_("%(variety)s, harvest of %(year)d")
        % {"variety": lot.variety, "year": lot.harvest_year},
        weight=show(bags.bag_kg, "mass", "metric"),
        ingredients=_ingredients(run) if is_flour else (),
        allergen=_("WHEAT"),
        lot=lot.code,
        milled=run.date if run else None,
        best_before=bags.best_before,
        advice=_advice(is_flour),
        organic=_organic(bags, run),
        address=_address(holding),
        walk_back_url=address,
    )


def _name(lot, run):
    if lot.kind == Lot.Kind.BRAN:
        return _("Wheat bran")
    named = {
        Flour.WHOLEMEAL: _("Wholemeal wheat flour"),
        Flour.BROWN: _("Brown wheat flour"),
        Flour.STONE_WHITE: _("Stoneground white flour"),
        Flour.WHITE: _("White wheat flour"),
    }
    return named[run.flour] if run else _("Wheat flour")


def _ingredients(run):
    """The list in parts, wheat as the allergen that it is."""
    flour = ((_("WHEAT"), True), (_(" flour"), False))
    if not (run and run.added):
        return flour
    return (*flour, (_(" (with %(added)s)") % {"added": run.added}, False))


def _advice(is_flour):
    keep = _("Keep cool, dry and closed.")
    raw = _("Flour is raw: bake or cook it before you eat it.")
    return (keep, raw) if is_flour else (keep,)


def _organic(bags, run):
    """Said only of a run that told its miller, under a certificate that holds."""
    holding, day = bags.holding, bags.date
    own = certificate_on(holding=holding, begins=day, ends=day)
    if own is None or run is None:
        return ()
    standing = lot_may_be_sold_as(bags.lot, sowings_behind(bags.lot))
    if standing == ORGANIC:
        return (_("Organic: %(code)s") % {"code": own.code}, _where_grown(own))
    if standing == IN_CONVERSION:
        said = _("Product under conversion to organic farming: %(code)s")
        return (said % {"code": own.code},)
    return ()


def _where_grown(certificate):
    here = certificate.code.upper().startswith(UNITED_KINGDOM)
    return _("UK Agriculture") if here else _("EU Agriculture")


def _address(holding):
    """Name and address of who answers for it: as the papers have them."""
    head = Letterhead.objects.filter(holding=holding).last()
    if head is None:
        return holding.name
    lines = (" ".join(line.split()) for line in head.address.splitlines())
    return ", ".join((head.name, *filter(None, lines)))
