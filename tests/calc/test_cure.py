"""Cure: ages against integration, the safe side of waits and windows, histories read strictly, advice that is enough."""

import math
import random
import re
from types import SimpleNamespace

import pytest
import scipy
from hypothesis import given, settings
from hypothesis import strategies as st

from shopmate import calc
from shopmate.calc import cure
from shopmate.calc.cure import CALCULATOR
from shopmate.errors import EntryError, InputError

DIRECTIONS = [
    ("sheet_time", "fraction", "falling", {}),
]
"""Input, output, its direction, and texts put in beside the first worked example's."""

SHEET = {"sheet_time": "24 h", "sheet_temperature": "25 °C"}
KIND = CALCULATOR.field("history").kind


def run(**fields):
    return calc.run("cure", {**SHEET, **fields})


def figures(**fields):
    return {name: getattr(value, "value", value) for name, value in run(**fields).outputs.items()}


def cautions(**fields):
    return " ".join(run(**fields).cautions)


def factor(celsius, reference, activation=55_000):
    """Return the speed by the exponent written out for one pair, k = A exp(−E/RT), as another route to the same."""
    k, k_reference = (math.exp(-activation / 8.314462618 / (t + 273.15)) for t in (celsius, reference))
    return k / k_reference


# The figures


@pytest.mark.parametrize(("begin", "end"), [(12, 30), (38, 13), (20, 20)])
def test_many_short_steps_come_to_the_integral_over_a_ramp(begin, end):
    hours, steps = 24, 96
    wanted, _ = scipy.integrate.quad(lambda t: factor(begin + (end - begin) * t / hours, 25), 0, hours)
    middles = [begin + (end - begin) * (step + 0.5) / steps for step in range(steps)]
    got = figures(history=" ".join(f"{hours / steps}h@{celsius:.6f}C" for celsius in middles))
    assert got["equivalent_age"] == pytest.approx(wanted, rel=2e-5)


def test_the_least_temperature_may_be_the_sheets_own():
    assert figures(history="24h@25C", least_temperature="25 °C")["verdict"] == "reached"
    with pytest.raises(InputError, match="above the 25 °C that the data-sheet time is for"):
        run(history="24h@25C", least_temperature="25.1 °C")


def test_the_hours_to_go_span_the_energies_that_are_published():
    ages = [24 * factor(15, 25, energy) for energy in (55_000, 44_000, 60_000)]
    to_go = [(24 - age) / (age / 24) for age in ages]
    got = figures(history="24h@15C")
    assert (got["left_least"], got["left_most"]) == pytest.approx((min(to_go), max(to_go)))
    assert (got["safe_age"], got["safe_short"]) == pytest.approx((min(ages), 24 - min(ages)))
    assert run(history="24h@15C").working[3].startswith("time at 15 °C = data-sheet time / speed = 24 / 0.4630 = 51.8")
    assert KIND.describe().startswith("list such as 8h@25C 16h@12C; on a keypad")


def test_a_night_that_falls_and_rises_like_a_cosine_ages_more_than_its_mean():
    def celsius(t):
        return 20 - 6 * math.sin(math.pi * t / 12)

    wanted, _ = scipy.integrate.quad(lambda t: factor(celsius(t), 25), 0, 24)
    got = figures(history=" ".join(f"0.25h@{celsius((step + 0.5) / 4):.6f}C" for step in range(96)))["equivalent_age"]
    assert got == pytest.approx(wanted, rel=1e-4)
    assert got > figures(history="24h@20C")["equivalent_age"] * 1.005


STEPS = st.lists(st.tuples(st.integers(1, 40), st.integers(-10, 55)), min_size=1, max_size=6)


def listed(steps):
    return " ".join(f"{hours}h@{celsius}C" for hours, celsius in steps).replace("@-", "@ -")


@settings(max_examples=40, deadline=None, derandomize=True)
@given(steps=STEPS, use=st.sampled_from(["not before", "do before"]), seed=st.integers(0, 9))
def test_neither_the_order_nor_splitting_changes_the_age(steps, use, seed):
    age = figures(history=listed(steps), use=use)["equivalent_age"]
    shuffled = random.Random(seed).sample(steps, len(steps))
    assert figures(history=listed(shuffled), use=use)["equivalent_age"] == pytest.approx(age, rel=1e-12)
    halves = [(hours / 2, celsius) for hours, celsius in steps for _ in range(2)]
    assert figures(history=listed(halves), use=use)["equivalent_age"] == pytest.approx(age, rel=1e-12)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(steps=STEPS, use=st.sampled_from(["not before", "do before"]), at=st.integers(0, 5), more=st.integers(1, 9))
def test_more_time_or_warmth_never_makes_it_younger(steps, use, at, more):
    at %= len(steps)
    age = figures(history=listed(steps), use=use)["equivalent_age"]
    for longer, warmer in ((more, 0), (0, min(more, 60 - steps[at][1]))):
        hours, celsius = steps[at]
        changed = [*steps[:at], (hours + longer, celsius + warmer), *steps[at + 1 :]]
        assert figures(history=listed(changed), use=use)["equivalent_age"] >= age * (1 - 1e-12)


@settings(max_examples=40, deadline=None, derandomize=True)
@given(
    hours=st.integers(1, 200),
    begin=st.integers(13, 39),
    end=st.integers(13, 39),
    use=st.sampled_from(["not before", "do before"]),
)
def test_waiting_for_what_is_left_reaches_the_sheets_time(hours, begin, end, use):
    before = figures(sheet_time="300 h", history=f"{hours}h@{begin}C 1h@{end}C", use=use)
    if not before["left"]:
        return
    history = f"{hours}h@{begin}C 1h@{end}C {before['left']:.12f}h@{end}C"
    assert figures(sheet_time="300 h", history=history, use=use)["fraction"] == pytest.approx(1, rel=1e-9)


def test_the_whole_time_at_a_temperature_is_the_age_the_sheet_asks_for():
    takes = figures(temperature="17 °C")["time_at_temperature"]
    assert figures(history=f"{takes:.12f}h@17C")["equivalent_age"] == pytest.approx(24)
    assert figures(history="1h@30C 2h@17C")["time_at_temperature"] == pytest.approx(takes)
    assert figures(temperature="25 °C")["time_at_temperature"] == pytest.approx(24)


def test_the_second_point_of_the_sheet_is_answered_as_the_sheet_says():
    both = {"other_time": "60 h", "other_temperature": "15 °C"}
    assert figures(temperature="15 °C", **both)["time_at_temperature"] == pytest.approx(60)
    # From either end the same energy, and scipy finds the same by search.
    energy = figures(temperature="15 °C", **both)["activation"]
    turned = {"sheet_time": "60 h", "sheet_temperature": "15 °C", "other_time": "24 h", "other_temperature": "25 °C"}
    assert figures(temperature="15 °C", **turned)["activation"] == pytest.approx(energy)
    found = scipy.optimize.brentq(lambda joules: 24 / factor(15, 25, joules) - 60, 20_000, 120_000)
    assert energy == pytest.approx(found / 1000)
    assert figures(temperature="18 °C", activation=f"{energy:.12f} kJ/mol")["rate"] == pytest.approx(
        figures(temperature="18 °C", **both)["rate"]
    )


def test_degrees_fahrenheit_and_minutes_are_the_same_history():
    celsius = figures(history="8h@25C 16h@12C")
    other = calc.run(
        "cure", {"sheet_time": "1 d", "sheet_temperature": "77 °F", "history": "480 min @ 77 °F; 960 min @ 53.6 °F"}
    ).outputs
    for name in ("equivalent_age", "left", "time_at_temperature", "fraction", "rate"):
        assert other[name].value == pytest.approx(celsius[name])
    assert other["verdict"] == celsius["verdict"]


# Traps


def test_kelvin_not_celsius_stand_in_the_exponent():
    celsius_fed = math.exp(55_000 / 8.314462618 * (1 / 25 - 1 / 15))
    assert celsius_fed < 1e-70
    assert figures(temperature="15 °C")["rate"] == pytest.approx(factor(15, 25))


def test_halving_every_ten_degrees_is_right_near_the_sheet_only():
    near, far = (figures(temperature=f"{t} °C")["rate"] * 2 ** ((25 - t) / 10) for t in (22, 6))
    assert near == pytest.approx(1, abs=0.05)
    assert far < 0.85


def test_degree_hours_undercount_a_warm_spell():
    degree_hours = (12 * 40 + 12 * 13) / 25
    assert figures(history="12h@40C 12h@13C")["equivalent_age"] > 1.5 * degree_hours


def test_the_mean_temperature_undercounts_a_history_of_warm_and_cold():
    assert figures(history="12h@35C 12h@15C")["equivalent_age"] > 1.1 * figures(history="24h@25C")["equivalent_age"]


# The safe side


def test_frost_counts_for_no_cure_but_for_a_window():
    assert figures(history="10h@20C 500h@5C")["equivalent_age"] == figures(history="10h@20C")["equivalent_age"]
    assert figures(history="10h@20C 500h@41F 10h@ -20C")["left"] is None
    window = figures(history="10h@20C 10h@ -5C", use="do before", activation="55")
    assert window["equivalent_age"] == pytest.approx(10 * factor(20, 25) + 10 * factor(12, 25))


def test_heat_over_the_model_counts_as_its_end_for_a_cure_and_in_full_for_a_window():
    assert figures(history="1h@60C")["equivalent_age"] == figures(history="1h@40C")["equivalent_age"]
    assert figures(history="1h@60C", use="do before")["equivalent_age"] == pytest.approx(factor(60, 25))
    assert "Above 40 °C this formula is no longer good: time above that counts as time at 40 °C" in cautions(history="1h@41C")
    assert "may close even sooner" in cautions(history="1h@41C", use="do before")
    assert "is no longer good" not in cautions(history="1h@40C")


@pytest.mark.parametrize("activation", ["", "55"])
@pytest.mark.parametrize(
    ("history", "verdict"), [("2h@25C 200h@10C", "doubtful"), ("40h@25C 2h@10C", "reached"), ("9h@25C", "not yet")]
)
def test_a_cure_that_needs_its_cold_hours_is_not_called_reached(activation, history, verdict):
    assert figures(history=history, activation=activation)["verdict"] == verdict


def test_a_cure_reached_by_one_activation_energy_only_is_doubtful():
    assert figures(history="44h@20C")["fraction"] > 1
    assert figures(history="36h@20C")["verdict"] == "doubtful"
    assert figures(history="36h@20C", activation="55")["verdict"] == "reached"
    assert "E at the worst end of 44 to 60 kJ/mol" in " ".join(run(history="36h@20C").working)


@pytest.mark.parametrize("history", ["2h@25C 200h@10C", "36h@20C", "9h@25C 3h@8C", "9h@25C 3h@ -5C", "1h@3C", "2.33h@30C 1h@11C"])
def test_the_warmth_advised_is_enough(history):
    hours = re.search(r"warm the part to 25 °C, never with a flame, and keep it there for ([\d.]+) h", cautions(history=history))[
        1
    ]
    assert figures(history=f"{history} {hours}h@25C")["verdict"] == "reached"
    assert figures(history=f"{history} {float(hours) - 0.11:.2f}h@25C")["verdict"] != "reached"


@pytest.mark.parametrize("history", ["2h@25C", "2h@32C", "1h@15C", "30min@20C 1h@16C"])
def test_a_window_told_open_is_open_so_long_whatever_the_resin(history):
    window = {"sheet_time": "6 h", "use": "do before"}
    more = re.search(r"Open for another ([\d.]+) h", cautions(history=history, **window))[1]
    last = history.rpartition("@")[2]
    for activation in ("44", "55", "60"):
        got = figures(history=_longer(history, more, last), activation=activation, **window)
        assert got["fraction"] <= 1 + 1e-12, activation


def _longer(history, hours, last):
    return f"{history} {float(hours) * 60:g}min@{last}" if "min" in history else f"{history} {hours}h@{last}"


def test_a_window_closes_sooner_when_hotter_and_in_doubt_counts_as_closed():
    window = {"sheet_time": "6 h", "use": "do before"}
    hours = [figures(temperature=f"{t} °C", **window)["time_at_temperature"] for t in range(0, 61, 4)]
    assert hours == sorted(hours, reverse=True)
    assert figures(history="3h@33C", **window)["verdict"] == "open"
    assert figures(history="3.5h@32C", **window)["verdict"] == "doubtful"
    assert "Treat it as closed" in cautions(history="3.5h@32C", **window)
    assert figures(history="4h@33C", **window)["verdict"] == "closed"
    assert "Wash, abrade" in cautions(history="4h@33C", **window)


def test_the_least_temperature_of_the_data_sheet_overrides_the_typical_one():
    assert figures(history="50h@14C")["verdict"] == "not yet"
    asked = {"history": "80h@14C", "activation": "55"}
    assert figures(**asked)["verdict"] == "reached"
    assert figures(**asked, least_temperature="16 °C")["verdict"] == "doubtful"
    assert "Below 16 °C" in cautions(**asked, least_temperature="16 °C")
    assert "Below" not in cautions(**asked)
    # A sheet that gives its time at 10 °C is not doubted at 10 °C.
    cold = {"sheet_time": "24 h", "sheet_temperature": "10 °C", "history": "24h@10C"}
    assert calc.run("cure", cold).outputs["verdict"] == "reached"


def test_the_spread_of_resins_is_told_for_the_longer_wait_and_the_shorter_window():
    ends = [24 / factor(15, 25, joules) for joules in (44_000, 60_000)]
    assert f"Count on {math.ceil(ends[1] * 10) / 10:.1f} h" in cautions(temperature="15 °C")
    assert f"Count on {math.floor(ends[0] * 10) / 10:.1f} h" in cautions(temperature="15 °C", use="do before")
    assert "One data-sheet time" not in cautions(temperature="15 °C", activation="55")
    assert "One data-sheet time" not in cautions(temperature="15 °C", other_time="50 h", other_temperature="15 °C")
    assert "One data-sheet time" not in cautions(temperature="24 °C")
    assert "One data-sheet time" not in cautions(temperature="10 °C")  # No hours are safe where it may never cure.


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"history": "1h@11C"}, "Below 12 °C resin can go hard half-cured"),
        ({"history": "1h@11C"}, "amine blush: wash it off with water"),
        ({"history": "1h@5C"}, "cure may not start there"),
        ({"temperature": "4 °C"}, "waiting alone won't help"),
        ({"temperature": "20 °C"}, "Unless you post-cure it"),
        ({"temperature": "20 °C"}, "10 to 25 °C above its cure temperature"),
        ({"temperature": "20 °C"}, "do not sand it while it is soft"),
        ({"temperature": "20 °C", "use": "do before"}, "sanding first grinds the blush in"),
    ],
)
def test_warns(fields, words):
    assert words in cautions(**fields)


def test_an_ordinary_wait_gets_only_the_standing_caution():
    assert len(run(history="30h@25C").cautions) == 1
    assert len(run(temperature="24 °C").cautions) == 1


def test_nothing_is_promised_where_cure_may_not_start():
    got = figures(temperature="5 °C")
    assert (got["verdict"], got["time_at_temperature"], got["rate"]) == ("may not cure", None, 0)
    assert figures(temperature="5.1 °C")["time_at_temperature"] > 100
    assert figures(temperature="20 °C")["verdict"] is None


# Reading a history


@pytest.mark.parametrize(
    "text",
    [
        "8h@25C 16h@12C",
        "8h@25C, 16h@12C",
        "8h@25C,16h@12C",
        "8h@25C;16h@12C;",
        " 8 h @ 25 °C   16 h @ 12 °C ",
        "8 hours at 25 deg C, 16 hours at 12 deg C",
        "8h@25 16h@12 °C",
        "8@25C 16@12C",
        "8/25;16/12 °C",
        "8/25-16/12 °C",
        "8/25; 16/12C",
        "8h/25C 16h/12C",
        "480min@25C 960min@12C",
        "8h@77F 16h@53.6F",
        "8h@25C 16h@53,6F",
    ],
)
def test_histories_of_the_same_meaning(text):
    steps = KIND.steps(text)
    assert [(step.hours, round(step.celsius, 9)) for step in steps] == [(8, 25), (16, 12)]
    assert KIND.steps(KIND.read(text)) == steps
    assert KIND.quantities(text) == tuple(step.temperature for step in steps)


@pytest.mark.parametrize(
    ("text", "shown"),
    [
        ("8,5h@25,5C, 1/2h@12C", "8.5 h @ 25.5 °C, 0.5 h @ 12 °C"),
        ("1-1/2 h@70F 2 h@ -5 C", "1.5 h @ 70 °F, 2 h @ -5 °C"),
        ("25C".join(["1 h @ ", " ½ h @ 12 C"]), "1 h @ 25 °C, 0.5 h @ 12 °C"),
        ("8/70;16/55 °F", "8 h @ 70 °F, 16 h @ 55 °F"),
        ("20h@25C", "20 h @ 25 °C"),
    ],
)
def test_a_history_is_shown_as_understood(text, shown):
    assert KIND.read(text) == shown


@pytest.mark.parametrize(
    ("text", "words"),
    [
        ("", "no '@'"),
        ("24", "no '@'"),
        ("8h 25C", "no '@'"),
        ("8h@", "step 1: there is no temperature"),
        ("@25C", "step 1: there is no time"),
        ("8h@;5C", "step 1"),
        ("8h@25", "step 1: the temperature has no unit"),
        ("8/25;16/12", "step 1: the temperature has no unit"),
        ("8h@25C 16h@12", "step 2: the temperature has no unit"),
        ("8h@70F 16h@12 4h@10C", "step 2: the temperature has no unit"),
        ("30min@25C 16@12C", "step 2: the time has no unit"),
        ("8h@25,16h@12,4h@30C", "step 1: can't tell where its temperature ends"),
        ("8h@25C16h@12C", "step 1: can't tell where its temperature ends"),
        ("8kg@25C", "step 1: 'kg' measures mass"),
        ("8h@25kg", "step 1: 'kg' measures mass"),
        ("0h@25C", "step 1: 0h is not above"),
        ("-8h@25C", "step 1: -8h is not above"),
        ("8h@25C 16h@120C", "step 2: 120C is above the maximum"),
        ("8h@25C 16h@-40C", "step 2: -40C is below the minimum"),
        ("8h@1,250C", "could be 1250 C or 1.25 C"),
        ("8h@25C@12C", "step 1: can't tell where its temperature ends"),
        ("1h@20C " * 101, "101 steps"),
        ("9" * 4000, "too long"),
    ],
)
def test_a_history_with_two_readings_or_none_is_refused(text, words):
    with pytest.raises(EntryError) as refused:
        KIND.read(text)
    assert words in refused.value.what
    assert refused.value.fix


def test_a_long_text_of_spaces_is_refused_at_once():
    with pytest.raises(EntryError):
        KIND.read("1@1" + " a" * 700 + "@2")


# Fields that do not go together


@pytest.mark.parametrize(
    ("fields", "wrong"),
    [
        ({}, ["history"]),
        ({"history": "8h@25C", "temperature": "20 °C"}, ["temperature"]),
        ({"temperature": "20 °C", "other_time": "40 h"}, ["other_temperature"]),
        ({"temperature": "20 °C", "other_temperature": "15 °C"}, ["other_time"]),
        ({"temperature": "20 °C", "other_time": "30 h", "other_temperature": "22 °C"}, ["other_temperature"]),
        ({"temperature": "20 °C", "other_time": "12 h", "other_temperature": "15 °C"}, ["other_time"]),
        ({"temperature": "20 °C", "other_time": "25 h", "other_temperature": "15 °C"}, ["other_time"]),
        ({"temperature": "20 °C", "other_time": "50 h", "other_temperature": "15 °C", "activation": "55"}, ["activation"]),
        ({"temperature": "20 °C", "least_temperature": "26 °C"}, ["least_temperature"]),
        ({"least_temperature": "26 °C", "other_time": "9 h"}, ["history", "least_temperature", "other_temperature"]),
        ({"history": "8h", "temperature": "20 kg"}, ["history", "temperature"]),
        ({"temperature": "20 °C", "use": "sometime"}, ["use"]),
    ],
)
def test_says_every_field_that_is_wrong(fields, wrong):
    with pytest.raises(InputError) as refused:
        run(**fields)
    assert [problem.field for problem in refused.value.problems] == wrong
    assert all(problem.fix for problem in refused.value.problems)


def test_unusual_figures_are_asked_about():
    assert any("above the usual 40 °C" in doubt for doubt in run(temperature="45 °C").doubts)
    assert any("below the usual 53.6 °F" in doubt for doubt in run(temperature="50 °F").doubts)


# The order of the cautions.


@pytest.mark.parametrize(
    ("fields", "words"),
    [
        ({"history": "8h@20C 1h@45C 2h@4C 1h@15C"}, ("Above 40", "Count", "Below 12", "5 °C or colder", "post-cure")),
        ({"history": "2h@4C"}, ("may stall", "Below 12", "5 °C or colder", "post-cure")),
        ({"history": "1h@41C", "use": "do before"}, ("Open for", "Above 40", "closes the window sooner")),
    ],
)
def test_what_to_do_comes_before_what_the_figures_do_not_cover(fields, words):
    said = run(**fields).cautions
    places = [next(place for place, caution in enumerate(said) if word in caution) for word in words]
    assert places == sorted(set(places)), said
    assert words[0] in said[0]


@pytest.mark.parametrize(
    ("closes", "cold", "said"),
    [(False, True, "time below 5 °C not counted"), (False, False, ""), (True, True, ""), (True, False, "")],
)
def test_cold_hours_are_said_to_be_left_out_only_where_they_are(closes, cold, said):
    sheet = SimpleNamespace(closes=closes, is_cold=lambda celsius: celsius < 5, known=True, least=5)
    assert cure._why_doubtful(sheet, [SimpleNamespace(celsius=20), SimpleNamespace(celsius=2 if cold else 20)]) == said
