"""``sheafwright cut``: today alone."""

import json


def test_the_advice_comes_first_with_its_odds(say, kiln_ground):
    printed = say("cut", *kiln_ground)
    first = " ".join(printed.split("\n\n")[0].split())
    assert "on Thursday 7 August" in first
    assert "of a perfect crop may be expected" in first
    assert max(map(len, printed.splitlines())) <= 80
    assert "How this was worked out" in printed


def test_json_is_smaller_than_the_outlooks(say, kiln_ground):
    cut, outlook = (say(name, *kiln_ground, "--json") for name in ("cut", "outlook"))
    assert len(json.loads(cut)["fit_week"]["by_start"]) == 11
    assert json.loads(cut)["advice"] == json.loads(outlook)["advice"]
    assert len(cut) < len(outlook)


def test_a_chart_is_the_outlooks_to_draw(refuse, kiln_ground):
    assert "No such option" in refuse("cut", *kiln_ground, "--chart", "a.svg")


def test_the_usual_caution_stands_before_a_cut_and_no_other_advice(say, kiln_ground):
    ripe = ["--sign", "nodes=yellow", "--sign", "grain=hard"]
    printed = say("cut", *kiln_ground, *ripe)
    advised = json.loads(say("cut", *kiln_ground, *ripe, "--json"))["advice"]["action"]
    assert advised == "cut"
    assert "never work it alone" in " ".join(printed.split())
    assert "Before you start" not in say("cut", *kiln_ground)


def test_the_working_is_short_until_it_is_asked_for_whole(say, kiln_ground):
    short, whole = (say("cut", *kiln_ground, *more) for more in ([], ["--working"]))
    assert "14 more steps, each with its source: --working." in " ".join(short.split())
    assert "Waiting is worth" in short
    assert "A fit spell is one" not in short
    assert "A fit spell is one" in whole
