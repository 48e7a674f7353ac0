"""What buyers have to do with a lot, for whoever may know: a part of its page."""

from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import trade_wording as wording
from sheafwright.records.selectors.lot_known import graded_by_buyers
from sheafwright.records.selectors.orders import reserved_of
from sheafwright.web.sheets import Section, write_action
from sheafwright.web.templatetags.said import kg
from sheafwright.web.trade_tables import lasted_section, visits_section

MOST_SEEN = 10


def looked_sections(request, lot):
    """Kept for whom, graded by whose own rule, who looked, and how it lasted."""
    if not request.membership.may(Right.SEE_TRADE):
        return
    yield from _kept(request, lot)
    visits = lot.visits.select_related("customer", "lot")[:MOST_SEEN]
    reports = lot.roof_reports.select_related("customer", "lot")[:MOST_SEEN]
    told = (
        visits_section(request, visits, ("lot",)),
        lasted_section(request, reports, ("lot",)),
    )
    yield from filter(None, told)
    yield Section(
        actions=(
            *write_action(request, "visit", lot=lot.pk),
            *write_action(request, "roof-report", lot=lot.pk),
        )
    )


def _kept(request, lot):
    units = request.user.units
    kept = [
        wording.kept_for(order, kg(mass, units))
        for order, mass in reserved_of(lot).items()
    ]
    own = [
        wording.by_own_rule(buyer, graded.headline)
        for buyer, graded in graded_by_buyers(lot).items()
    ]
    if kept or own:
        yield Section(heading=_("For buyers"), more=(*kept, *own))
