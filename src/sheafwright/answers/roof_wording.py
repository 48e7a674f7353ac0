"""What is said of a roof, and what is warned of."""

from sheafwright.core.errors import OutOfRange
from sheafwright.core.roof.coat import HUNDREDWEIGHT, mass_per_area
from sheafwright.feeds import roof as feed
from sheafwright.feeds.roof import (
    COMBED_REED,
    CONE,
    EYEBROW,
    GABLE_DORMER,
    HALF_HIP,
    HIPPED_DORMER,
    LONG_STRAW,
    NEW_COAT,
    OVER_COAT,
    PATCH,
    RIDGE,
    SWAYS,
)
from sheafwright.feeds.telling import by_family, joined, mark, measured, say, say_n

CALLED = {
    GABLE_DORMER: mark("gabled dormer"),
    HIPPED_DORMER: mark("hipped dormer"),
    EYEBROW: mark("eyebrow"),
    HALF_HIP: mark("half-hip"),
    CONE: mark("conical end"),
}
MATERIAL = {COMBED_REED: mark("combed reed"), LONG_STRAW: mark("long straw")}
WORK = {
    NEW_COAT: mark("A new coat of {material}, {mm} thick, with its ridge,"),
    OVER_COAT: mark("A coat of {material} over the old one, {mm} thick, with a ridge,"),
    PATCH: mark("A patch of {area} of {material}, {mm} thick,"),
    RIDGE: mark("A ridge of {material}"),
}
CWT_A_SQUARE = float(mass_per_area(1, HUNDREDWEIGHT))
"""[kg m⁻²]"""
RATES = mark("No standard says what a square takes: put in what you know of your work.")
HEIGHT = mark(
    "Working at height kills: scaffold and edge protection put up by trained people, "
    "ladders tied, nobody alone or on a wet or frosty roof."
)
FRAME = mark(
    "Have somebody competent judge the rafters before anything is laid on them: wet "
    "straw weighs more than dry, and an old roof may weigh far more than it looks."
)
CONTROL = mark(
    "Ask the local authority first: a thatched roof falls under building control, and "
    "on a listed building or in a conservation area the material and the ridge may be "
    "laid down. Local codes and trained people first."
)


def sentence(shape, straw):
    """The answer in a few sentences."""
    return joined(_size(shape), _takes(straw), _fixed(straw), straw_note(straw))


def _size(shape):
    area = measured(shape.area, "m²", ",.1f")
    ridge = measured(shape.lines[RIDGE], "m", ",.1f")
    return say(
        "The roof has {area}, {squares:,.1f} squares, and {ridge} of ridge.",
        area=area,
        squares=shape.squares,
        ridge=ridge,
    )


def work_said(straw):
    """The work, as the beginning of a sentence."""
    thick = 1000 * straw.thickness if straw.thickness else 0.0
    return say(
        WORK[straw.work],
        material=say(MATERIAL[straw.material]),
        mm=measured(thick, "mm", ".0f"),
        area=measured(straw.area, "m²", ",.1f"),
    )


def _takes(straw):
    low, likely, high = (tonnes(each) for each in straw.bought)
    few, middle, many = straw.bundles
    return joined(
        say(
            "{work} takes about {likely} ({low} to {high}).",
            work=work_said(straw),
            likely=likely,
            low=low,
            high=high,
        ),
        say_n(
            "That is {n:,} bundle of {kg} ({few:,} to {many:,}).",
            "That is {n:,} bundles of {kg} ({few:,} to {many:,}).",
            middle,
            kg=measured(straw.bundle, "kg", ".3g"),
            few=few,
            many=many,
        ),
    )


def tonnes(mass):
    """A mass as it is said, such as ``5.1 t``."""
    if mass < 1000:
        return measured(mass, "kg", ",.0f")
    return measured(mass / 1000, "t", ",.1f")


def _fixed(straw):
    few, _, many = straw.spars
    if straw.fixing == SWAYS:
        return say(
            "Its coat wants {sways} of sways and {hooks:,} hooks, its ridge {few:,} to "
            "{many:,} spars.",
            sways=measured(straw.sways, "m", ",.0f"),
            hooks=straw.hooks,
            few=few,
            many=many,
        )
    return say("It wants {few:,} to {many:,} spars.", few=few, many=many)


def straw_note(straw):
    """That the rates are not the thatcher's own, unless they are."""
    return None if straw.own_rate else say(RATES)


def rate_said(band):
    """What lies on a square metre, or on a square where squares are read."""
    return by_family(
        say("{low:.1f} to {high:.1f} kg/m²", low=band.low, high=band.high),
        say(
            "{low:.2f} to {high:.2f} cwt a square",
            low=band.low / CWT_A_SQUARE,
            high=band.high / CWT_A_SQUARE,
        ),
    )


def warnings(shape, straw):
    """What the trade would not accept, each a sentence."""
    limits = feed.accepted()
    low = [each for each in shape.faces if each[1] < limits.least_pitch]
    for pitch in sorted({pitch for _, pitch, _ in low}):
        sides = sorted({side for side, each, _ in low if each == pitch})
        yield say_n(
            "Side {sides} slopes at {pitch:g}°: the trade accepts no main slope below "
            "{least:g}°, where rain soaks in, and prefers {good:g} to {better:g}°.",
            "Sides {sides} slope at {pitch:g}°: the trade accepts no main slope below "
            "{least:g}°, where rain soaks in, and prefers {good:g} to {better:g}°.",
            len(sides),
            sides=joined(*map(str, sides), by=", "),
            pitch=pitch,
            least=limits.least_pitch,
            good=limits.good_pitch[0],
            better=limits.good_pitch[1],
        )
    for each in shape.standing:
        if each.kind != CONE and each.pitch < limits.least_dormer_pitch:
            yield say(
                "The {kind} of side {side} slopes at {pitch:g}°: a rule accepts no "
                "dormer below {least:g}°, and expects a shorter life of it than of the "
                "roof.",
                kind=say(CALLED[each.kind]),
                side=each.side,
                pitch=each.pitch,
                least=limits.least_dormer_pitch,
            )
    if straw.work == OVER_COAT:
        yield say(
            "A coat over an old one adds {kn:.2f} kN/m² to whatever lies there.",
            kn=straw.pressure.high,
        )


def cautions():
    """What hurts people and burns houses, each told in a sentence or two."""
    fire = feed.fire_rules()
    return (
        say(HEIGHT),
        say(FRAME),
        say(
            "Fire: thatch nearer than {boundary} to a boundary, a barrier over the "
            "rafters of less than {barrier:g} minutes, and a chimney less than "
            "{chimney} above the ridge are beyond what one widely used guide accepts; "
            "no hot work or smoking on the roof, and the fire service's advice first.",
            boundary=measured(fire.boundary, "m"),
            barrier=fire.barrier,
            chimney=measured(fire.chimney, "m"),
        ),
        say(CONTROL),
    )


def check_stem(stem, thickness):
    """Refuse stems too short to lie in the coat at all."""
    if stem <= thickness:
        raise OutOfRange(
            "Stems of {stem} can't make a coat {mm} thick; they should be longer.",
            stem=measured(stem, "m"),
            mm=measured(1000 * thickness, "mm", ".0f"),
        )
