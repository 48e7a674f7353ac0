from django.shortcuts import get_object_or_404
from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import trade_wording as wording
from sheafwright.records.models import Enquiry
from sheafwright.records.papers.roof_facts import answer_of
from sheafwright.web.access import for_right
from sheafwright.web.roofs import describe_actions, roof_sections
from sheafwright.web.sheets import Section, Sheet, sheet


@for_right(Right.SEE_TRADE)
def enquiry_roof(request, enquiry_id):
    """The roof that an enquiry is for, drawn as it was described."""
    found = get_object_or_404(
        Enquiry.objects.select_related("customer"),
        holding=request.membership.holding,
        pk=enquiry_id,
    )
    title = found.roof or _("A roof for %(customer)s") % {"customer": found.customer}
    if not found.roof_plan:
        asks = Section(actions=describe_actions(request))
        told = Sheet(title, wording.no_plan(), wording.squares_of(found), (asks,))
        return sheet(request, told)
    answer = answer_of(found.roof_plan)
    first, rest = first_sentence(answer.sentence)
    sections = tuple(roof_sections(answer))
    return sheet(request, Sheet(title, first, rest, sections))
