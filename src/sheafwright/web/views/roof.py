from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import trade_wording as wording
from sheafwright.records.models import Enquiry, Order
from sheafwright.records.papers.roof_facts import answer_of, plan_of
from sheafwright.web.access import for_right
from sheafwright.web.corrections import put_right_section
from sheafwright.web.roofs import describe_actions, roof_sections
from sheafwright.web.sheets import Section, Sheet, sheet


@for_right(Right.SEE_TRADE)
def enquiry_roof(request, enquiry_id):
    """The roof that an enquiry is for, drawn, and what was said of it before."""
    found = get_object_or_404(
        Enquiry.objects.select_related("customer"),
        holding=request.membership.holding,
        pk=enquiry_id,
    )
    again = describe_actions(request, _("Describe it anew"))
    if not found.roof_plan:
        asks = Section(actions=describe_actions(request))
        told = Sheet(
            _title(found), wording.no_plan(), wording.squares_of(found), (asks,)
        )
        return sheet(request, told)
    was = put_right_section(request, again, enquiry=found)
    return _drawn(request, found, found.roof_plan, was)


@for_right(Right.SEE_TRADE)
def order_roof(request, order_id):
    """The roof that an order is for: its own, or that of its enquiry."""
    found = get_object_or_404(
        Order.objects.select_related("customer", "quotation__enquiry"),
        holding=request.membership.holding,
        pk=order_id,
    )
    plan = plan_of(found)
    if not plan:
        return sheet(request, Sheet(_title(found), wording.no_plan()))
    was = ()
    if not found.roof_plan:
        was = (put_right_section(request, enquiry=found.quotation.enquiry),)
    return _drawn(request, found, plan, *was)


def _title(found):
    return found.roof or _("A roof for %(customer)s") % {"customer": found.customer}


def _drawn(request, found, plan, *more):
    answer = answer_of(plan)
    first, rest = first_sentence(answer.sentence)
    sections = (*roof_sections(answer), *more)
    return sheet(request, Sheet(_title(found), first, rest, sections))
