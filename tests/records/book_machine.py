"""The book against a plain dictionary, by Hypothesis.

``python book_machine.py FOLDER EXAMPLES STEPS`` prints how many steps were taken.
"""

import datetime
import sys
import uuid
from collections import Counter
from pathlib import Path

import pytest
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

if __name__ == "__main__":
    from sheafwright.server.run import prepare

    prepare(Path(sys.argv[1]))

from book_to_write import new_book

from sheafwright.records.errors import (
    NothingChanges,
    SaidOtherwise,
    StillNeeded,
    TooLittleThere,
)
from sheafwright.records.models import Line, Lot, Movement, Place
from sheafwright.records.selectors.mass_balance import mass_balance
from sheafwright.records.selectors.posted import Posted, money_book
from sheafwright.records.services import grain, harvest, stock
from sheafwright.records.services.book import place_of
from sheafwright.records.services.threshing import Outturn, threshing_record
from sheafwright.records.verify import verify

KG = st.integers(1, 1500)
CUT_DAYS = st.dates(datetime.date(2026, 8, 1), datetime.date(2026, 8, 5))
DAYS = st.dates(datetime.date(2026, 8, 6), datetime.date(2026, 9, 6))
GUESSED = ("standing", "stooks", "rick")
SOURCE = "grown"


class BookMachine(RuleBasedStateMachine):
    """Every way to write in the book; its balances are a dictionary's after each."""

    steps = 0

    def __init__(self):
        super().__init__()
        self.book = new_book(f"m-{uuid.uuid4().hex}")
        self.holds = Counter()
        self.said = []
        """(service, id, what was said, what it moved, or None once undone)"""
        self.cuts = []
        self.lots = {"reed": [], "grain": [], "other": []}

    def write(self, service, moves, **said):
        """Write an entry that the dictionary says moves so much, or is refused."""
        BookMachine.steps += 1
        id = uuid.uuid5(self.book.holding.pk, str(BookMachine.steps))
        if isinstance(moves, type):
            with pytest.raises(moves):
                self.book.write(service, id=id, **said)
            return None
        written = self.book.write(service, id=id, **said)
        self.holds.update(moves)
        self.said.append([service, id, said, moves])
        return written

    def taken(self, place, grams):
        """What leaves a place, and is grown if it was never guessed."""
        had = min(grams, self.holds[place])
        return Counter({place: -had, self.grown: had - grams})

    @property
    def grown(self):
        return self.own(SOURCE)

    def own(self, kind):
        return kind, self.book.holding.pk

    @property
    def standing(self):
        return "standing", self.book.sowing.pk

    @property
    def rick(self):
        return "rick", self.book.rick.pk

    def place(self, key):
        return place_of(holding=self.book.holding, kind=key[0], subject=key[1])

    @rule(kg=st.integers(0, 20_000), date=DAYS)
    def expect(self, kg, date):
        more = kg * 1000 - self.holds[self.standing]
        moves = {self.standing: more, self.grown: -more} if more else NothingChanges
        said = {"sowing": self.book.sowing, "kg": kg, "date": date}
        self.write(harvest.crop_expect, moves, **said)

    @rule(sheaves=st.integers(1, 300), area_ha=st.sampled_from([0.25, 0.5]), d=CUT_DAYS)
    def cut(self, sheaves, area_ha, d):
        undone = {id for _, id, _, moves in self.said if moves is None}
        area = area_ha + sum(c.area_ha for c in self.cuts if c.pk not in undone)
        stood, grams = self.holds[self.standing], sheaves * 9000
        had = stood if area >= 2 else min(stood, grams)
        said = {"sheaves": sheaves, "kg_per_sheaf": 9, "area_ha": area_ha, "date": d}
        moves = Counter({self.standing: -had, self.grown: had - grams})
        cut = self.write(harvest.cut_record, moves, sowing=self.book.sowing, **said)
        self.holds["stooks", cut.stook_set.pk] += grams
        moves["stooks", cut.stook_set.pk] += grams
        self.cuts.append(cut)

    @precondition(lambda self: self.cuts)
    @rule(data=st.data(), kg=st.none() | KG, date=DAYS)
    def cart(self, data, kg, date):
        stooks = data.draw(st.sampled_from(self.cuts)).stook_set
        place = "stooks", stooks.pk
        grams = kg * 1000 if kg else self.holds[place]
        moves = self.taken(place, grams)
        moves[self.rick] += grams
        said = {"stook_set": stooks, "rick": self.book.rick, "kg": kg, "date": date}
        self.write(harvest.carting_record, moves if grams else TooLittleThere, **said)

    @rule(reed=KG, corn=KG, waste=st.none() | KG, kg=st.none() | KG, date=DAYS)
    def thresh(self, reed, corn, waste, kg, date):
        codes = [f"{kind}-{BookMachine.steps}" for kind in ("reed", "grain")]
        outturn = [Outturn("reed", reed, codes[0]), Outturn("grain", corn, codes[1])]
        outturn += [Outturn("waste", waste)] if waste else []
        shown = 1000 * (reed + corn + (waste or 0))
        grams = max(shown, kg * 1000 if kg else self.holds[self.rick])
        moves = self.taken(self.rick, grams)
        moves[self.own("waste")] += (waste or 0) * 1000
        moves[self.own("unexplained" if waste else "waste")] += grams - shown
        said = {"rick": self.book.rick, "kg": kg, "date": date, "outturn": outturn}
        self.write(threshing_record, moves, **said)
        kinds = "reed", "grain"
        for kind, code, lot_kg in zip(kinds, codes, (reed, corn), strict=True):
            lot = Lot.objects.get(holding=self.book.holding, code=code)
            self.lots[kind].append(lot)
            moves["lot", lot.pk] += lot_kg * 1000
            self.holds["lot", lot.pk] += lot_kg * 1000

    @precondition(lambda self: self.lots["reed"])
    @rule(data=st.data(), kg=KG, date=DAYS)
    def sell(self, data, kg, date):
        lot = data.draw(st.sampled_from(self.lots["reed"] + self.lots["grain"]))
        place = "lot", lot.pk
        fits = kg * 1000 <= self.holds[place]
        moves = Counter({place: -kg * 1000}) if fits else TooLittleThere
        said = {"lot": lot, "kg": kg, "date": date, "buyer_name": "Hob"}
        sale = self.write(stock.sale_record, moves, **said)
        if sale:
            moves["sold", sale.pk] += kg * 1000
            self.holds["sold", sale.pk] += kg * 1000

    @precondition(lambda self: self.lots["grain"])
    @rule(data=st.data(), to=st.sampled_from(list(stock.WAYS)), kg=KG, date=DAYS)
    def move(self, data, to, kg, date):
        lot = data.draw(st.sampled_from(self.lots["grain"]))
        fits = kg * 1000 <= self.holds["lot", lot.pk]
        moves = {("lot", lot.pk): -kg * 1000, (to, lot.pk): kg * 1000}
        said = {"lot": lot, "to": to, "kg": kg, "date": date}
        self.write(stock.grain_move, moves if fits else TooLittleThere, **said)

    @precondition(lambda self: self.lots["grain"])
    @rule(data=st.data(), kg=st.none() | KG, after=st.integers(8, 17), date=DAYS)
    def dry(self, data, kg, after, date):
        lot = data.draw(st.sampled_from(self.lots["grain"]))
        place = "lot", lot.pk
        grams = kg * 1000 if kg else self.holds[place]
        water = grams - round(grams * 0.82 / (1 - after / 100))
        moves = Counter({place: -water, self.own("water"): water})
        fits = 0 < grams <= self.holds[place]
        said = {"lot": lot, "weight_kg": kg, "date": date, "how": "floor"}
        said |= {"moisture_before_pct": 18, "moisture_after_pct": after}
        self.write(grain.drying_record, moves if fits else TooLittleThere, **said)

    @precondition(lambda self: self.lots["grain"])
    @rule(data=st.data(), clean=KG, out=KG, dust=st.integers(0, 9), date=DAYS)
    def dress(self, data, clean, out, dust, date):
        lot = data.draw(st.sampled_from(self.lots["grain"]))
        place, through = ("lot", lot.pk), clean + out + dust
        fits = through * 1000 <= self.holds[place]
        moves = Counter({place: -through * 1000})
        moves[self.own("unexplained")] += dust * 1000
        codes = [f"{kind}-{BookMachine.steps}" for kind in ("clean", "tail")]
        said = {"lot": lot, "weight_kg": through, "clean_kg": clean, "date": date}
        said |= {"screenings_kg": out, "screenings_to": "kept"}
        said |= {"clean_code": codes[0], "screenings_code": codes[1]}
        if self.write(grain.dressing_record, moves if fits else TooLittleThere, **said):
            self.came(moves, dict(zip(codes, (clean, out), strict=True)))

    @precondition(lambda self: self.lots["grain"])
    @rule(data=st.data(), kg=KG, bran=KG, dust=st.integers(0, 9), date=DAYS)
    def run_of_the_mill(self, data, kg, bran, dust, date):
        lot = data.draw(st.sampled_from(self.lots["grain"]))
        ground = (kg + bran + dust) * 1000
        at_mill = min(self.holds["mill", lot.pk], ground)
        fits = ground - at_mill <= self.holds["lot", lot.pk]
        moves = Counter({("mill", lot.pk): -at_mill, ("lot", lot.pk): at_mill - ground})
        moves[self.own("milling")] += dust * 1000
        codes = [f"{kind}-{BookMachine.steps}" for kind in ("flour", "bran")]
        said = {"lot": lot, "weight_kg": ground // 1000, "date": date}
        said |= {"flour": "brown", "flour_kg": kg, "bran_kg": bran}
        said |= {"flour_code": codes[0], "bran_code": codes[1]}
        if self.write(grain.milling_record, moves if fits else TooLittleThere, **said):
            self.came(moves, dict(zip(codes, (kg, bran), strict=True)))

    def came(self, moves, made):
        """Lots that an entry made; grain that is clean is dealt with as other grain."""
        for code, kg in made.items():
            lot = Lot.objects.get(holding=self.book.holding, code=code)
            moves["lot", lot.pk] += kg * 1000
            self.holds["lot", lot.pk] += kg * 1000
            self.lots["grain" if lot.kind == Lot.Kind.GRAIN else "other"].append(lot)

    @rule(data=st.data(), kg=KG, date=DAYS)
    def lose(self, data, kg, date):
        key = data.draw(self.in_hand())
        if key[0] in GUESSED:
            moves = self.taken(key, kg * 1000)
        else:
            fits = kg * 1000 <= self.holds[key]
            moves = Counter({key: -kg * 1000}) if fits else TooLittleThere
        if isinstance(moves, Counter):
            moves[self.own("vermin")] += kg * 1000
        said = {"place": self.place(key), "kg": kg, "date": date}
        self.write(stock.loss_record, moves, by="rats", counted_as="vermin", **said)

    @rule(data=st.data(), kg=st.integers(0, 2000), date=DAYS)
    def weigh(self, data, kg, date):
        key = data.draw(self.in_hand())
        more = kg * 1000 - self.holds[key]
        moves = {key: more, self.grown: -more} if more else NothingChanges
        said = {"place": self.place(key), "kg": kg, "date": date}
        self.write(stock.weight_adjust, moves, **said)

    def in_hand(self):
        lots = [lot.pk for lots in self.lots.values() for lot in lots]
        stooks = [("stooks", cut.stook_set.pk) for cut in self.cuts]
        lots = [("lot", lot) for lot in lots]
        return st.sampled_from([self.standing, self.rick, *stooks, *lots])

    @precondition(lambda self: self.said)
    @rule(data=st.data(), date=DAYS)
    def undo(self, data, date):
        entry = data.draw(st.sampled_from(self.said))
        moves = entry[3]
        if moves is None or self.is_needed(moves):
            moves = StillNeeded
        else:
            moves = {place: -grams for place, grams in moves.items()}
        BookMachine.steps += 1
        id = uuid.uuid5(self.book.holding.pk, f"undo {BookMachine.steps}")
        movement = Movement.objects.get(pk=entry[1])
        said = {"movement": movement, "date": date}
        if moves is StillNeeded:
            with pytest.raises(StillNeeded):
                self.book.write(stock.entry_undo, id=id, **said)
            return
        for _ in "twice":
            self.book.write(stock.entry_undo, id=id, **said)
        self.holds.update(moves)
        entry[3] = None

    def is_needed(self, moves):
        return any(
            self.holds[place] < grams
            for place, grams in moves.items()
            if place[0] != SOURCE
        )

    @precondition(lambda self: self.said)
    @rule(data=st.data())
    def send_again(self, data):
        service, id, said, _ = data.draw(st.sampled_from(self.said))
        BookMachine.steps += 1
        self.book.write(service, id=id, **said)

    @precondition(lambda self: self.said)
    @rule(data=st.data())
    def send_again_saying_otherwise(self, data):
        service, id, said, _ = data.draw(st.sampled_from(self.said))
        BookMachine.steps += 1
        other = said["date"] + datetime.timedelta(days=1)
        with pytest.raises(SaidOtherwise):
            self.book.write(service, id=id, **said | {"date": other})

    @invariant()
    def the_book_holds_what_the_dictionary_holds(self):
        places = Place.objects.filter(holding=self.book.holding)
        kept = places.values_list("kind", "subject", "balance__grams")
        book = {(kind, subject): grams for kind, subject, grams in kept if grams}
        assert book == {key: grams for key, grams in self.holds.items() if grams}

    @invariant()
    def nothing_in_hand_is_below_nothing(self):
        assert all(g >= 0 for (kind, _), g in self.holds.items() if kind != SOURCE)

    def teardown(self):
        assert verify().is_sound, verify().failures
        for until in (datetime.date(2026, 8, 20), datetime.date(2026, 12, 31)):
            self.accounts_agree(datetime.date(2026, 8, 10), until)
        self.money_is_whole()

    def accounts_agree(self, since, until):
        """Opening, and in, less out and lost, is closing, to the gram."""
        for each in mass_balance(holding=self.book.holding, since=since, until=until):
            sides = (each.came_in, each.went_out, each.lost)
            came, went, lost = (sum(item.grams for item in side) for side in sides)
            assert each.opening_grams + came == each.closing_grams + went + lost

    def money_is_whole(self):
        """Whatever was dressed and milled, lots bear every penny once."""
        book = money_book(holding=self.book.holding, harvest_year=2026)
        shares, field = book.shares, self.book.sowing.pk
        for bearers in shares.handed.values():
            assert abs(sum(bearers.values()) - 1) < 1e-9
        borne = sum(parts.get(field, 0) for parts in shares.in_lot.values())
        assert borne < 1 + 1e-9
        bills = [
            Posted("other", 10_007, lots=((code, 1.0),), of_one_lot=True)
            for code in shares.handed
        ]
        for bill in (Posted("seed", 99_991, sowing=field), *bills):
            by_lot = book.by_lot(bill)
            assert sum(by_lot.values()) == bill.pence
            assert min(by_lot.values()) >= 0


def main(examples, steps):
    settings.register_profile(
        "book",
        max_examples=examples,
        stateful_step_count=steps,
        deadline=None,
        database=None,
        suppress_health_check=list(HealthCheck),
    )
    settings.load_profile("book")
    run_state_machine_as_test(BookMachine)
    sys.stdout.write(f"{BookMachine.steps} {Line.objects.count()}")


if __name__ == "__main__":
    main(*map(int, sys.argv[2:]))
