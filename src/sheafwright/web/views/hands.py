from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records.selectors.hands import who_comes
from sheafwright.web.access import for_right
from sheafwright.web.sheets import Section, Sheet, sheet, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import UNKNOWN, day


@for_right(Right.SEE_WORK)
def hands(request):
    week = who_comes(holding=request.membership.holding)
    columns = (Column(_("Half-day")), Column(_("Comes")))
    rows = tuple(
        (
            f"{day(each.half_day.date)}, {each.half_day.label}",
            ", ".join(h.name for h in each.comes) or UNKNOWN,
        )
        for each in week
    )
    comes = Section(table=Table(columns, rows), actions=write_action(request, "coming"))
    return sheet(request, Sheet(_("Hands"), _("Who comes"), sections=(comes,)))
