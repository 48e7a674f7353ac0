"""What wants doing today, the most urgent first, each with its reason."""

import dataclasses
import datetime
import enum

from sheafwright.answers.carting import carting
from sheafwright.answers.rick_heat import CAUTION
from sheafwright.answers.stooks import CART
from sheafwright.feeds.telling import first_sentence, joined, told
from sheafwright.records import crop_wording, grain_wording, hands_wording, wording
from sheafwright.records.clock import today
from sheafwright.records.models import Rick, WeedWalk
from sheafwright.records.saved import saved, standing
from sheafwright.records.selectors.against import (
    checks_due,
    insurance_lacking,
    not_shown,
)
from sheafwright.records.selectors.carting import carting_asked
from sheafwright.records.selectors.crop import seen_stages
from sheafwright.records.selectors.grain_next import at_mill, steps_waiting
from sheafwright.records.selectors.heat import heat_of_ricks
from sheafwright.records.selectors.in_hand import stooks_in_hand
from sheafwright.records.selectors.inspection import certificates_now
from sheafwright.records.selectors.machines import machines_now
from sheafwright.records.selectors.settle import to_settle

SOON = datetime.timedelta(days=10)
"""A field is spoken of from so long before soft dough."""
WEED_MONTH = 6
LIKELY_TO_LODGE = 0.5
"""Chance that more than a tenth goes down, above which it is spoken of."""
MOST_OF_GRAIN = 4
"""Lots of grain or flour that are spoken of, those that press most."""
WALKED = datetime.timedelta(days=7)
"""A field that was looked at so lately need not be again."""


class Urgency(enum.IntEnum):
    """Lower comes first."""

    DANGER = 0
    CUT = 1
    SHOW = 2
    CART = 3
    READING = 4
    TURN = 5
    COVER = 6
    HEAP = 7
    SETTLE = 8
    CHECK = 9
    WALK = 10
    GRAIN = 11
    WATCH = 12
    PAPERS = 13


@dataclasses.dataclass(frozen=True)
class Job:
    """One thing to do."""

    urgency: Urgency
    says: str
    why: str
    page: str
    """Name of the page where it is done."""
    subject: object = None
    """The sowing, stook set or rick that it is about."""

    @property
    def is_danger(self):
        return self.urgency is Urgency.DANGER


def jobs_today(*, holding):
    sowings = list(standing(holding))
    found = [
        *_ricks(holding),
        *_fields(holding, sowings),
        *_stooks(holding),
        *_grain(holding),
        *_settle(holding),
        *_weeds(holding, sowings),
        *_lodging(holding, sowings),
        *_papers(holding),
        *_hands(holding),
    ]
    return sorted(found, key=lambda job: job.urgency)


def _ricks(holding):
    for each in heat_of_ricks(holding=holding):
        heat, rick = each.heat, each.rick
        if heat.fire_service_first:
            yield Job(Urgency.DANGER, heat.sentence, told(CAUTION), "ricks", rick)
        elif heat.overdue or heat.last_read is None:
            yield Job(
                Urgency.READING,
                wording.probe(rick),
                heat.sentence,
                "ricks",
                rick,
            )
        if rick.cover == Rick.Cover.OPEN:
            why = wording.cover_why()
            yield Job(Urgency.COVER, wording.cover(rick), why, "ricks", rick)


def _fields(holding, sowings):
    kept = saved(question="outlook", about=sowings)
    for sowing in sowings:
        answer = kept.get(sowing.pk)
        if answer is None or "refused" in answer.said:
            continue
        yield from _field(sowing, answer.said, today(holding))


def _field(sowing, said, day):
    advice, likely = said["advice"], said["stages"]["soft_dough"]["p50"]
    if advice["action"] == "cut":
        says = wording.cut_today(sowing.field)
        yield Job(Urgency.CUT, says, advice["sentence"], "cutting", sowing)
    elif likely and datetime.date.fromisoformat(likely) - day <= SOON:
        fit = datetime.date.fromisoformat(likely)
        says = (
            wording.may_be_fit(sowing.field, fit)
            if fit > day
            else wording.leave(sowing.field)
        )
        why = (
            wording.fit_between(said["stages"]["soft_dough"])
            if fit > day
            else advice["sentence"]
        )
        yield Job(Urgency.WALK, says, why, "growing", sowing)


def _stooks(holding):
    sets = list(stooks_in_hand(holding=holding))
    kept = saved(question="stooks", about=sets)
    for stook_set in sets:
        answer = kept.get(stook_set.pk)
        if answer is None or "refused" in answer.said:
            continue
        said, rest = first_sentence(answer.said["sentence"])
        urgency = Urgency.CART if answer.said["action"] == CART else Urgency.WATCH
        # One field may have several, cut on different days.
        why = joined(f"{stook_set.cut}.", rest)
        yield Job(urgency, said, why, "stooks", stook_set)
    yield from _after_rain(holding, sets, kept)


def _after_rain(holding, sets, kept):
    """Stooks that want setting up, opening or moving."""
    asked, named = carting_asked(holding=holding, sets=sets, kept=kept)
    for each in carting(asked).sets:
        if each.after_rain.wants:
            says = wording.see_to_stooks(each.stook_set.name)
            subject = named[each.stook_set.name]
            yield Job(Urgency.TURN, says, each.after_rain.sentence, "stooks", subject)


def _grain(holding):
    """What waits with grain and flour; the rest of it is on *Grain*."""
    for now, step in steps_waiting(holding=holding)[:MOST_OF_GRAIN]:
        urgency = Urgency.HEAP if step.spoils else Urgency.GRAIN
        if step.entry == "flour-check":
            says, why = grain_wording.see_the_list(), step.says
        else:
            says = grain_wording.of_a_lot(now.lot, step.says)
            why = grain_wording.in_store(now.lot, now.grams)
        yield Job(urgency, says, why, "grain", now.lot)
    for lot, grams in at_mill(holding=holding)[:MOST_OF_GRAIN]:
        says = grain_wording.tell_the_run(lot)
        why = grain_wording.lies_at_the_mill(grams)
        yield Job(Urgency.GRAIN, says, why, "grain", lot)


def _settle(holding):
    count = to_settle(holding=holding).count()
    if count:
        says = wording.to_settle(count)
        yield Job(Urgency.SETTLE, says, wording.settle_them(), "settle")


def _weeds(holding, sowings):
    day = today(holding)
    if day.month != WEED_MONTH:
        return
    walked = WeedWalk.objects.filter(
        holding=holding, date__year=day.year, date__month=WEED_MONTH
    ).values_list("sowing_id", flat=True)
    for sowing in sowings:
        if sowing.pk not in set(walked):
            says = wording.walk_for_weeds(sowing.field)
            yield Job(Urgency.WALK, says, wording.weeds_why(), "growing", sowing)


def _lodging(holding, sowings):
    """Of a crop that may well go down: to spare it manure, later to look what lies."""
    day = today(holding)
    kept = saved(question="lodging", about=sowings)
    for sowing in sowings:
        said = kept[sowing.pk].said if sowing.pk in kept else {}
        chance, seen = said.get("chance_over_tenth", 0), sowing.observations.all()
        if chance <= LIKELY_TO_LODGE or any(day - o.date < WALKED for o in seen):
            continue
        in_ear = day >= _first_in_ear(said, seen)
        says = crop_wording.walk_after_gale if in_ear else crop_wording.spare_manure
        why = crop_wording.lodging_why(chance, in_ear)
        yield Job(Urgency.WALK, says(sowing.field), why, "growing", sowing)


def _first_in_ear(said, seen):
    """The day on which its ear was seen out, or else the first that it may be."""
    stages = seen_stages(seen)
    return stages.get("ear_out") or datetime.date.fromisoformat(
        said["by_date"][0]["date"]
    )


def _papers(holding):
    for now in certificates_now(holding=holding):
        certificate = now.certificate
        if now.ends_soon or now.has_ended:
            says = wording.certificate_ends(certificate.holder, certificate.expires)
            yield Job(Urgency.PAPERS, says, wording.renew(), "book")
        if now.leaves_straw_out and not now.has_ended:
            says = wording.straw_not_covered()
            yield Job(Urgency.PAPERS, says, wording.ask_for_it(), "book")


def _hands(holding):
    """Those who come today to a machine that they were not shown, and what is due."""
    machines, says = machines_now(holding=holding), hands_wording.stands_against
    why = hands_wording.shown_why()
    for each in not_shown(holding=holding, machines=machines, days=1):
        yield Job(Urgency.SHOW, says(each), why, "hands", each.hand)
    why = hands_wording.check_why()
    for each in checks_due(machines):
        yield Job(Urgency.CHECK, says(each), why, "hands", each.machine.machine)
    why = hands_wording.insurance_why()
    for each in insurance_lacking(holding=holding):
        yield Job(Urgency.PAPERS, says(each), why, "hands")
