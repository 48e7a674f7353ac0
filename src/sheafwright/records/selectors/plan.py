"""What the cropping plan is to keep to, and the plan that was kept of it."""

import dataclasses
import datetime

from django.db.models import Prefetch

from sheafwright.accounts.models import Membership
from sheafwright.accounts.rights import RIGHTS, Right
from sheafwright.answers.cropping_wording import why_not
from sheafwright.core.inputs.cropping import Pin, Wanted
from sheafwright.feeds.cropping import CroppingQuestion, FieldAsked, tables
from sheafwright.feeds.tables import shipped
from sheafwright.feeds.work import work_rates
from sheafwright.planning.cropping.rotation import WHEAT, broken
from sheafwright.records.clock import today
from sheafwright.records.due.cropping import KEPT, Depth, plan_due
from sheafwright.records.models import (
    AreaWanted,
    Field,
    PlanFixed,
    SavedAnswer,
    Sowing,
)
from sheafwright.records.papers.standing import conversion_began, organic_from
from sheafwright.records.selectors.borne import (
    LOOKED_BACK,
    borne,
    state_after,
    unsaid,
    wheat_of,
)
from sheafwright.records.selectors.supply import first_year

YEARS = 6
"""Harvests planned: the next and five more."""
DAYS_A_WEEK = 6
"""Worked in harvest. [d]"""
UNSAID = "unsaid"
A_YEAR = datetime.timedelta(365)


@dataclasses.dataclass(frozen=True)
class PlanAsked:
    """All that a plan is to keep to, and what was never said of it."""

    first_year: int
    question: CroppingQuestion | None
    """None where no field takes part."""
    fields: dict[str, Field]
    fixed: tuple[PlanFixed, ...]
    """The last word on each field and year of the plan."""
    wanted: tuple[AreaWanted, ...]
    sown: frozenset[tuple[str, int]]
    """Fields and years whose crop is in the ground already."""
    unsaid: dict[str, tuple[int, ...]]
    """Field to harvests of which nobody said what it bore, where that matters."""
    unfarmed: tuple[str, ...]
    """Fields of which nobody said how they are farmed."""
    against: dict[str, str]
    """Field that is sown against the rules, and so left out, to the rule."""
    hands: int
    hours_a_week: float


@dataclasses.dataclass(frozen=True)
class PlanKept:
    """The last plan."""

    answer: SavedAnswer
    is_new: bool
    """Whether it is of the book as it now is."""

    @property
    def said(self):
        return self.answer.said


def plan_asked(*, holding):
    """`PlanAsked` from the book as it now is."""
    first, rules = first_year(holding), tables({})["rules"]
    years = range(first, first + YEARS)
    fields = {field.name: field for field in _fields(holding, first)}
    bore = {name: borne(field, first) for name, field in fields.items()}
    against = {
        name: why
        for name, field in fields.items()
        if (why := _against(field, first, state_after(bore[name], rules), rules))
    }
    part = [f for f in fields.values() if not f.stays_grass and f.name not in against]
    sown, fixed = _sown(part, years), _fixed(part, years)
    wanted, hands = _wanted(holding, years), _hands(holding)
    hours = max(1, hands) * DAYS_A_WEEK * work_rates().day.hand_hours
    question = CroppingQuestion(
        first_year=first,
        years=YEARS,
        fields=tuple(
            _field_asked(field, bore[name], today(holding))
            for name, field in fields.items()
            if name not in against
        ),
        hours_a_week=hours,
        wanted=tuple(_wanted_asked(each) for each in wanted),
        pins=_pins(sown, fixed),
    )
    return PlanAsked(
        first_year=first,
        question=question if part else None,
        fields=fields,
        fixed=fixed,
        wanted=wanted,
        sown=frozenset(sown),
        unsaid={
            field.name: years
            for field in part
            if (years := unsaid(bore[field.name], first, rules))
        },
        unfarmed=tuple(field.name for field in part if not field.statuses.all()),
        against=against,
        hands=hands,
        hours_a_week=hours,
    )


def plan_kept(*, holding, asked):
    """`PlanKept` for what is `PlanAsked`: the fullest, or the last plan of older words.

    None while there is neither.
    """
    kept = SavedAnswer.objects.filter(
        holding=holding, question=KEPT, subject=holding.pk
    )
    for depth in reversed(Depth):
        hashed = plan_due(holding, asked.question, depth).inputs_sha256()
        if found := kept.filter(inputs_sha256=hashed).first():
            return PlanKept(found, is_new=True)
    last = kept.filter(said__has_key="fields").order_by("-made_at").first()
    return last and PlanKept(last, is_new=False)


def _fields(holding, first):
    late = Sowing.objects.filter(harvest_year__gte=first - LOOKED_BACK)
    return Field.objects.filter(holding=holding).prefetch_related(
        "statuses", "leys", "past_crops", Prefetch("sowings", late.order_by("date"))
    )


def _against(field, year, state, rules):
    """The rule that what is sown for a year breaks, in words, if it breaks any."""
    is_sown = any(sowing.harvest_year == year for sowing in field.sowings.all())
    breaks = broken(state, WHEAT, rules) if is_sown else ()
    return why_not(breaks[0], state, rules) if breaks else ""


def _field_asked(field, bore, day):
    return FieldAsked(
        field.name,
        field.area_ha,
        tuple(str(crop or UNSAID) for crop in bore),
        _conversion_from(field, day),
        field.stays_grass,
    )


def _conversion_from(field, day):
    began, organic = conversion_began(field, day), organic_from(field, day)
    if began or not organic:
        return began
    # Organic before the book began: converted so that it is organic from that day.
    years = shipped("organic")["conversion"]["years_before_sowing"].value
    return organic - years * A_YEAR


def _sown(fields, years):
    """Field and year to the crop that is in the ground."""
    return {
        (field.name, sowing.harvest_year): str(wheat_of(sowing))
        for field in fields
        for sowing in field.sowings.all()
        if sowing.harvest_year in years
    }


def _fixed(fields, years):
    said = PlanFixed.objects.filter(field__in=fields, harvest_year__in=years)
    last = {(f.field_id, f.harvest_year): f for f in said.select_related("field")}
    return tuple(each for each in last.values() if each.crop)


def _pins(sown, fixed):
    """What is in the ground stands against any wish."""
    wishes = {(each.field.name, each.harvest_year): each.crop for each in fixed}
    return tuple(sorted(Pin(*place, crop) for place, crop in (wishes | sown).items()))


def _wanted(holding, years):
    said = AreaWanted.objects.filter(holding=holding, harvest_year__in=years)
    last = {(each.harvest_year, each.crop): each for each in said}
    return tuple(each for each in last.values() if _limits(each))


def _wanted_asked(said):
    return Wanted(said.harvest_year, said.crop, **_limits(said))


def _limits(said):
    limits = {"least_ha": said.least_ha, "most_ha": said.most_ha}
    return {name: ha for name, ha in limits.items() if ha is not None}


def _hands(holding):
    """People who write down the day's work."""
    roles = [role for role, rights in RIGHTS.items() if Right.DO_WORK in rights]
    return Membership.objects.filter(holding=holding, role__in=roles).count()
