"""*Grain*: what is in store, how good it is, what to do next, and what it may bring."""

from django.utils.translation import gettext as _

from sheafwright.accounts.rights import Right
from sheafwright.records import grain_wording, wording
from sheafwright.records.clock import today
from sheafwright.records.models import Lot
from sheafwright.records.selectors.grain import flour_checks, grain_now
from sheafwright.records.selectors.grain_next import KINDS, steps_by_pressing
from sheafwright.records.selectors.lots import lots_held
from sheafwright.web.access import for_right
from sheafwright.web.grain import (
    bags_section,
    checklist_section,
    flour_section,
    keeping_section,
    milling_section,
    next_section,
    owed_section,
    prices_section,
    stock_section,
    terms_section,
)
from sheafwright.web.sheets import Action, Section, Sheet, sheet, write_action
from sheafwright.web.templatetags.said import grams
from sheafwright.web.views.lots import MOST_LOTS, begins_at

ENTRIES = ("drying", "dressing", "sale", "grain-move", "lot-test")


@for_right(Right.SEE_WORK)
def grain(request):
    holding, units = request.membership.holding, request.user.units
    held = lots_held(
        holding=holding, kinds=KINDS, begins=begins_at(request), most=MOST_LOTS
    )
    lots, checks = grain_now(held.lots), flour_checks(holding=holding)
    steps = steps_by_pressing(lots, day=today(holding), checks=checks)
    first = grain_wording.first_of_all(steps[0][0].lot, steps[0][1]) if steps else ""
    sections = (
        *([next_section(request, steps)] if steps else []),
        stock_section(request, lots, _actions(request, held)),
        flour_section(request, lots),
        prices_section(request, held.by_kind.get(Lot.Kind.GRAIN, 0)),
        milling_section(request),
        bags_section(request),
        checklist_section(request, checks),
        keeping_section(request, lots),
        terms_section(request),
        owed_section(request),
    )
    answer = grain_wording.headline(held, lambda mass: grams(mass, units))
    return sheet(
        request,
        Sheet(
            _("Grain"),
            answer,
            first,
            tuple(each for each in sections if each != Section()),
        ),
    )


def _actions(request, held):
    yield from (act for kind in ENTRIES for act in write_action(request, kind))
    begins = begins_at(request)
    older = held.count - begins - len(held.lots)
    if held.lots and older > 0:
        yield Action(wording.older_lots(older), f"?from={begins + MOST_LOTS}")
