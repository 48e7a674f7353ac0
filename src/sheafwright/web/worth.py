"""What a lot brought and cost, each line with where it comes from."""

from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import lot_worth_wording as wording
from sheafwright.records.money import said
from sheafwright.records.selectors.lot_worth import lot_worth
from sheafwright.records.selectors.posted import POUNDS
from sheafwright.web.sheets import Section, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import kg


def worth_sections(request, lot):
    """For whoever may know prices."""
    worth = lot_worth(lot) if request.membership.may(Right.SEE_TRADE) else None
    if worth is None:
        return
    units = request.user.units
    yield Section(
        heading=wording.heading(),
        sentence=wording.in_short(worth),
        actions=write_action(request, "purchase", lot=lot.pk),
    )
    yield Section(
        more=tuple(wording.how_shared(worth)),
        table=_table(worth, lambda mass: kg(mass, units)),
        folded=_("Line by line, and where each comes from"),
    )


def _table(worth, weight):
    columns = (Column(_("What")), Column("£", True), Column(_("Where from")))
    rows = [
        (
            _("Brought"),
            said(amount, currency),
            wording.whence_brought(worth, weight),
        )
        for currency, amount in worth.brought.items()
    ]
    rows += [
        (wording.name_of(each), wording.cost_of(each), wording.whence(each))
        for each in worth.lines
    ]
    if worth.left is not None:
        rows.append((_("Left"), said(worth.left, POUNDS), ""))
    return Table(columns, tuple(rows), is_wordy=True)
