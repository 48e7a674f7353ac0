"""What may be told of a standing crop, as parts of a page."""

import dataclasses

from django.urls import reverse
from django.utils.translation import gettext as _

from sheafwright.answers.bands import BAND_NAMES
from sheafwright.answers.lodging_working import change_named
from sheafwright.feeds.telling import first_sentence
from sheafwright.records import crop_wording as wording
from sheafwright.records.selectors.ground_before import Lacks
from sheafwright.records.wording import being_worked_out
from sheafwright.web.sheets import Action, Fold, Section, write_action
from sheafwright.web.tables import Column, Table
from sheafwright.web.templatetags.said import (
    area,
    kg,
    money,
    odds,
    yield_per_area,
)

KG_PER_T = 1000
MOST_MEASURED = 0.5
"""Where fewer gusts were, the odds rest on those that were made."""


def prospect_told(request, prospect, behind=""):
    """For a page of many crops: a sentence each, and a `Fold` with a little more.

    What is ``behind`` its first sentences comes first there.
    """
    told = _stand(prospect), _yields(request, prospect)
    count, clean = prospect.is_count_fresh, prospect.clean.sentence
    sentences = (
        *([prospect.counted.sentence] if count else []),
        *dict.fromkeys(first for first, _rest in told if first != being_worked_out()),
        *([clean] if clean else []),
    )
    holding, field = request.membership.holding, prospect.sowing.field
    fold = Fold(
        _("How sure that is, and against what"),
        sentences=(
            *([behind] if behind else []),
            *(" ".join(rest) for _first, rest in told if rest),
        ),
        action=Action(
            wording.all_of(field), reverse("web:field", args=[holding.slug, field.pk])
        ),
    )
    return {"more": sentences, "fold": fold}


def prospect_sections(request, prospect):
    """A part each, for the page of its field."""
    sowing, stand, yields = prospect.sowing, prospect.standing, prospect.yields
    yield supply_section(
        request,
        sowing.field,
        sowing.harvest_year,
        prospect.grown.supplied,
        wording.ground_gives(sowing.harvest_year),
    )
    yield _plants(request, prospect)
    yield _kept(
        _("Will it stand?"), _stand(prospect), stand, stand and _changes(stand.said)
    )
    yield _kept(
        _("What will it yield?"),
        _yields(request, prospect),
        yields,
        yields and _bands(yields.said, request.user.units),
    )
    if prospect.clean.sentence:
        yield Section(
            heading=_("Weeds and clover"),
            sentence=prospect.clean.sentence,
            actions=write_action(request, "weed-walk", sowing=sowing.pk),
            working=prospect.clean.working,
        )


def _kept(heading, told, answer, table):
    """A section of an answer that was kept, or of why there is none."""
    sentence, more = told
    section = Section(heading=heading, sentence=sentence, more=more)
    if answer is None:
        return section
    return dataclasses.replace(
        section,
        drawing=answer.drawing,
        table=table,
        working=tuple(answer.said.get("working", ())),
        made_at=answer.made_at,
    )


def supply_section(request, field, harvest_year, supplied, heading):
    """What nitrogen the ground gives, or what must be said before it can be told."""
    answer = supplied.answer
    if answer is None:
        return Section(
            heading=heading,
            sentence=_untold(supplied, harvest_year),
            actions=_to_say(request, field, harvest_year, supplied.lacks),
        )
    return Section(
        heading=heading,
        sentence=answer.sentence,
        is_danger=answer.beside_sound == "rich",
        working=answer.working,
    )


def _untold(supplied, harvest_year):
    """Why the ground can't be told of yet."""
    if supplied.lacks:
        lacks = {each.value for each in supplied.lacks}
        return wording.to_say_of_the_ground(lacks, harvest_year)
    return supplied.refused or being_worked_out()


def _to_say(request, field, harvest_year, lacks):
    """Buttons to what is lacking."""
    of_it = {"field": field.pk}
    forms = (
        (Lacks.SOIL, "field-correction", _("Say what kind of soil it is"), of_it),
        (
            Lacks.LAST_CROP,
            "past-crop",
            _("Say what it bore"),
            of_it | {"harvest_year": harvest_year - 1},
        ),
        (Lacks.LEY, "ley", _("Say of its ley"), of_it),
        (Lacks.RAIN, "weather", _("Give the weather record"), {}),
    )
    return tuple(
        action
        for lack, kind, says, given in forms
        if lack in lacks
        for action in write_action(request, kind, says, **given)
    )


def _plants(request, prospect):
    count, sowing = prospect.counted, prospect.sowing
    return Section(
        heading=_("Plants"),
        sentence=wording.counted_on(count) if count else wording.nothing_counted(),
        actions=write_action(request, "plant-count", sowing=sowing.pk),
        working=count.answer.working if count and count.answer else (),
    )


def _stand(prospect):
    """Whether it will stand: a sentence, and more of them."""
    said = prospect.standing.said if prospect.standing else {}
    more = [wording.known_by(prospect.grown)]
    if "sentence" in said:
        more.insert(0, first_sentence(said["sentence"])[1])
        if said["gusts_measured_share"] < MOST_MEASURED:
            more.append(wording.gusts_are_made())
    return wording.will_stand(prospect), tuple(more)


def _changes(said):
    """Chances of this crop, of a usual field, and of what might be grown instead."""
    if "refused" in said:
        return None
    columns = (Column(_("Grown")), Column(_("That over a tenth goes down"), True))
    others = [(change_named(each), each) for each in said["changes"] if each["settled"]]
    rows = [
        (_("as it is"), said),
        (_("as on a usual field"), said["against_reference"]),
        *others,
    ]
    return Table(
        columns, tuple((name, odds(each["chance_over_tenth"])) for name, each in rows)
    )


def _yields(request, prospect):
    """What it will yield, in the same two parts."""
    supplied, sowing = prospect.grown.supplied, prospect.sowing
    said = prospect.yields.said if prospect.yields else {}
    if supplied.answer is None:
        return _untold(supplied, sowing.harvest_year), ()
    if "sentence" not in said:
        return said.get("refused") or being_worked_out(), ()
    units = request.user.units
    made, grain = (said[f"{n}_t_per_ha"] for n in ("product", "grain"))
    kilograms = [sowing.area_ha * KG_PER_T * band["p50"] for band in (made, grain)]
    of_all = wording.of_the_crop(
        said,
        area(sowing.area_ha, units),
        [kg(each, units) for each in kilograms],
        prospect.likely_gbp and money(prospect.likely_gbp),
    )
    says = wording.will_yield(said, _by_area(made, units), _by_area(grain, units))
    return says, (of_all, wording.yield_known_by(said))


def _bands(said, units):
    if "refused" in said:
        return None
    columns = (
        Column(_("Gives")),
        Column(_("Likely"), True),
        Column(_("8 chances in 10"), True),
    )
    named = (
        (_("straw"), said["straw_t_per_ha"]),
        (wording.product(said), said["product_t_per_ha"]),
        (_("grain"), said["grain_t_per_ha"]),
    )
    each = [(name, _by_area(band, units)) for name, band in named]
    rows = tuple((n, band[1], wording.from_to(band[0], band[2])) for n, band in each)
    return Table(columns, rows)


def _by_area(band, units):
    return tuple(yield_per_area(KG_PER_T * band[p], units) for p in BAND_NAMES)
