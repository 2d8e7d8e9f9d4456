"""A project being worked on: every kind of step, hold point, clock and alarm; nothing unsaved, everything taken back."""

import shutil
from dataclasses import replace
from datetime import timedelta

import pytest
from conftest import EVERY_STEP, every_step, materials, reach, without_old_answers, worked_out

from shopmate import clock as clocks_
from shopmate import recipe as recipes
from shopmate import session as sessions
from shopmate import times
from shopmate.clock import State
from shopmate.dialogue.step import said
from shopmate.errors import EntryError, FileProblems
from shopmate.project.events.clocks import ClockStarted, Limit
from shopmate.result import Figure
from shopmate.session import CautionView, ChooseView, Doubt, EnterView, FinishedView, NotNow, RowsView, Session, events_of
from shopmate.session.demo import follow
from shopmate.session.doing import told
from shopmate.units import Quantity, Shown


def to(session, now, headline, **answers):
    """Follow the run as far as a step, with what each step offers."""
    return reach(session, now, headline, {name.replace("_", " "): answer for name, answer in answers.items()})


def through(session, now, **answers):
    return to(session, now, "Recipe complete", **answers)


def state(session):
    """What taking back restores; alarms that sounded have sounded."""
    run = session.run
    clocks = [(clock.key, clock.due_at, clock.ended_at, clock.acknowledged) for clock in session.project.clocks.values()]
    held = (dict(run.values), dict(run.marks), set(run.seen), dict(run.refused), dict(run.clocks), dict(run.extra_turns))
    return run.place, run.finished_at, held, clocks


# Steps


def test_the_questions_come_first_and_their_answers_are_kept_as_typed(small, now):
    together = small.view(now())
    assert (type(together), together.is_list, together.frame.section) == (RowsView, False, "Start")
    assert [(row.number, row.label, row.value) for row in together.frame.rows] == [
        (1, "Choose the glue", "Thickened epoxy"), (2, "Choose the resin", "Epoxy 2:1 by volume, slow"),
        (3, "Count the coats", "2"),
        (4, "Give the length", "1.2 m"),
    ]  # fmt: skip
    view = small.view(now(), at=small.run.place)
    assert (view.frame.section, view.frame.where) == ("Start", "step 1 of 4 · section 1 of 5")
    assert (type(view), [option.label for option in view.options], view.default) == (
        ChooseView, ["Thickened epoxy", "From a cartridge"], "epoxy",
    )  # fmt: skip
    assert small.answer("cartridge", now()) == "From a cartridge"
    view = small.view(now(), at=small.run.place)
    assert [option.key for option in view.options] == [m.name for m in materials().values() if m.kind == "resin"]
    assert small.answer("epoxy-2to1-medium", now()) == "Epoxy 2:1 by volume, medium"
    assert small.answer("3", now()) == "3"
    assert small.answer("1-1/2 ft", now()) == "457.2 mm"
    values = small.run.values
    assert (values["glue"].text, values["resin.pot_life"].quantity) == ("cartridge", Quantity(20, "min"))
    assert values["coats"].quantity.value == 3
    assert values["length"].quantity.value_in("mm") == pytest.approx(457.2)
    *answers, end = small.log.events()[-5:]
    assert [event.data.get("typed") for event in answers] == [None, None, "3", "1-1/2 ft"]
    assert (end.kind, end.data["by_itself"]) == ("section", True)
    assert small.view(now()).headline == "Read the air"


@pytest.mark.parametrize(
    ("headline", "text", "words"),
    [
        ("Choose the glue", "glue", "choose one of: epoxy, cartridge"),
        ("Choose the resin", "tar", "choose one of: epoxy-2to1-slow"),
        ("Count the coats", "2.5", "whole number from 1 to 3"),
        ("Count the coats", "4", "whole number from 1 to 3"),
        ("Give the length", "6 m", "above the maximum, 5 m; enter 5 m or less"),
        ("Give the length", "3 g", "length"),
        ("Give the length", "", "nothing"),
        ("Read the air", "-21", "below the minimum, -20 °C"),
    ],
)
def test_what_is_no_answer_is_refused_and_changes_nothing(small, now, headline, text, words):
    to(small, now, headline)
    before, count = state(small), len(small.log.events())
    with pytest.raises(EntryError, match=words):
        small.answer(text, now(), sure=True)
    assert (state(small), len(small.log.events())) == (before, count)


def test_an_odd_answer_is_asked_about_and_taken_when_it_is_meant(small, now):
    to(small, now, "Give the length")
    with pytest.raises(Doubt, match="2500 mm is above the usual 2000 mm; is that right"):
        small.answer("2500", now())
    assert small.run.step.headline == "Give the length"
    assert small.answer("2500", now(), sure=True) == "2500 mm"
    to(small, now, "Weigh the resin")
    for text in ("79", "121"):
        with pytest.raises(Doubt):
            small.answer(text, now())
    assert small.answer("80", now()) == "80 g"


def test_cautions_stand_alone_before_their_step_in_order(small, now):
    view = to(small, now, "WARNING")
    assert (type(view), view.frame.detail) == (CautionView, ("Hardener on the skin can start an allergy that lasts for life.",))
    with pytest.raises(NotNow, match=r"\*"):
        small.done(now())
    with pytest.raises(NotNow):
        small.answer("100", now())
    assert small.acknowledge(now()) == "READ WARNING"
    view = small.view(now())
    # What hurts nobody stands beside its step.
    assert (view.headline, view.frame.notices) == ("Weigh the resin", ("A wrong ratio never cures.",))
    with pytest.raises(NotNow, match="nothing to acknowledge"):
        small.acknowledge(now())


def test_a_calculator_works_on_the_answers_and_its_figures_stand_in_later_steps(small, now):
    view = to(small, now, "Work out the pot")
    # 100 g of resin at 1.15 g/mL is 86.96 mL; half of that of hardener at 0.97 g/mL is 42.17 g.
    reading = worked_out(view)["scale_hardener"].value_in("g")
    assert reading == pytest.approx(100 + 100 / 1.15 / 2 * 0.97, abs=0.01)
    assert [(figure.shown.number, figure.shown.unit) for figure in view.frame.figures] == [("142.2", "g")]
    view = to(small, now, "Stir two full minutes")
    assert view.frame.detail == ("Length 1.2 m, scale at 142.2 g.",)
    assert [(figure.label, figure.shown.number) for figure in view.frame.figures] == [("Hardener to", "142.2")]


def test_a_step_that_does_not_apply_is_passed_over_and_marked(small, now):
    to(small, now, "WARNING")
    marks = {place.step: mark.word for place, mark in small.run.marks.items() if place.section == 1}
    assert (marks[5], marks[6]) == ("done", "not applicable")
    other = small.add_part("Panel 2", now())
    small.begin(other, every_step(), now())
    assert to(small, now, "Cut the cartridge", Choose_the_glue="cartridge").frame.where.startswith("step 7 of 7 · ")


def test_steps_follow_how_a_clock_stands(small, now):
    to(small, now, "Tip off the coat")
    small.done(now())
    assert small.view(now()).headline == "Leave it flat"
    small.take_back(now())
    small.done(now.on(hours=6))
    assert small.view(now()).headline == "Abrade the coat"


def test_a_section_is_repeated_as_planned_once_more_or_broken_off(small, now):
    to(small, now, "Leave it flat")
    small.done(now())
    assert small.view(now()).frame.where == "step 1 of 5 · coat 2 of 2 · section 4 of 5"
    with pytest.raises(NotNow):
        small.repeat("again", now())
    view = to(small, now, "Leave it flat")
    assert [(option.key, option.label) for option in view.frame.turns] == [("again", "done, 1 more coat")]
    with pytest.raises(NotNow):
        small.repeat("enough", now())
    small.pick("again", now())
    assert small.view(now()).frame.where.startswith("step 1 of 5 · coat 3 of 3 · ")
    small.take_back(now())
    end = small.view(now())
    assert (end.headline, end.until) == ("Coat 2 of 2 complete", "Stop when the weave is full.")
    assert [option.key for option in end.frame.turns] == ["again"]
    small.take_back(now())
    assert small.view(now()) == view
    small.done(now())
    assert small.view(now()).frame.section == "Clamp"


def test_no_coat_more_than_wanted(small, now):
    to(small, now, "Leave it flat", Count_the_coats="3")
    with pytest.raises(NotNow):
        small.repeat("enough", now())
    small.done(now())
    view = small.view(now())
    assert (view.frame.where.split(" · ")[:2], [option.label for option in view.frame.turns]) == (
        ["step 1 of 5", "coat 2 of 3"], ["this is the last coat"],
    )  # fmt: skip
    small.pick("enough", now())
    assert small.view(now()).frame.section == "Clamp"
    assert small.run.turns(3) == 1


# Hold points


def test_a_value_outside_its_limits_does_not_pass(small, now):
    view = to(small, now, "Pass the air", Read_the_air="12")
    assert (view.go, view.verdict) == (False, "too low: 12 °C, limits 18 °C to 35 °C")
    with pytest.raises(NotNow, match="hold point: too low"):
        small.done(now())
    assert small.measure_again(now()) == "AGAIN"
    assert small.view(now()).headline == "Read the air"
    small.answer("17.9", now())
    assert (small.view(now()).headline, small.view(now()).go) == ("Pass the air", False)
    small.measure_again(now())
    small.answer("18", now())
    event = small.log.events()[-1]
    assert (event.data["headline"], event.data["by_itself"]) == ("Pass the air", True)
    assert event.data["shown"] == "18 °C, limits 18 °C to 35 °C"
    with pytest.raises(NotNow):
        small.override("no need", now())
    with pytest.raises(NotNow):
        small.measure_again(now())
    assert small.run.step.headline == "Read the humidity"


def test_a_calculators_verdict_is_measured_again_from_its_first_answer(small, now):
    view = to(small, now, "Pass the dew point", Read_the_surface="8", Read_the_air="21")
    # At 21 °C and 50 % the dew point is 10.2 °C.
    assert view.go is False
    assert view.frame.figures[0].shown.number == "10.2"
    with pytest.raises(NotNow):
        small.done(now())
    small.measure_again(now())
    assert small.view(now()).headline == "Read the air"


def test_measuring_again_skips_answers_that_were_not_asked_for(home, now):
    asked = "      - ask: Read the air\n"
    other = "      - {ask: Feel the air, into: air, unit: °C, when: {glue: cartridge}}\n"
    text = EVERY_STEP.read_text(encoding="utf-8").replace(asked, other + asked)
    session = Session.create(sessions.project_path("x"), "x", now(), materials())
    session.begin(session.add_part("P", now()), recipes.read(text, "f.yaml"), now())
    to(session, now, "Pass the air", Read_the_air="12")
    session.measure_again(now())
    assert session.view(now()).headline == "Read the air"
    session.close()


def test_a_hold_point_is_passed_for_a_reason_that_the_log_keeps(small, now):
    to(small, now, "Pass the air", Read_the_air="12")
    with pytest.raises(NotNow, match="needs a reason"):
        small.override("  ", now())
    small.override("The data sheet allows it", now())
    event = events_of(small.log.path)[-1]
    assert (event.data["reason"], event.data["headline"]) == ("The data sheet allows it", "Pass the air")
    place = next(place for place in small.run.marks if place.section == 1 and place.step == 1)
    assert small.run.marks[place].shown == "overridden: The data sheet allows it"


def test_a_state_judged_by_eye_passes_only_as_the_right_one(small, now):
    view = to(small, now, "Judge the film")
    assert (view.go, len(view.options), said(view).if_no) == (None, 2, "")  # the remedy is no hint beside the answers
    with pytest.raises(NotNow, match="not checked yet"):
        small.done(now())
    with pytest.raises(EntryError, match="choose one of: whole, broken"):
        small.judge("torn", now())
    assert small.judge("broken", now()) == "Film broken"
    view = small.view(now())
    assert (view.go, view.verdict, said(view).if_no) == (False, "Film broken", "Clean it again.")
    with pytest.raises(NotNow):
        small.done(now())
    with pytest.raises(NotNow, match="nothing to measure again"):
        small.measure_again(now())
    small.judge("whole", now())
    assert small.view(now()).frame.section == "Mix"


def test_a_wait_opens_with_its_clock_and_ends_it(small, now):
    view = to(small, now, "Wait for the clamps")
    assert view.go is False
    assert view.verdict.startswith("NOT BEFORE ")
    with pytest.raises(NotNow, match="NOT BEFORE"):
        small.done(now())
    due = small.project.clocks[small.run.clocks["clamp"]].due_at
    assert not small.view(due - timedelta(seconds=1)).go
    now.at = due
    assert small.done(now()) == "DONE"
    assert small.project.clocks[small.run.clocks["clamp"]].ended_at == due
    small.take_back(now())
    now.on(hours=-1)
    small.override("Tried on a sample, it held", now())
    assert small.view(now()).headline == "Take the clamps off"


# Clocks and alarms


def test_a_step_that_hangs_on_an_answer_already_given_is_a_step_like_any_other_or_none(small, now):
    outline = to(small, now, "Read the air", Choose_the_glue="cartridge").frame.outline
    cut = [line for line in outline if line.text == "Cut the cartridge"]
    assert [(line.mark, line.condition) for line in cut] == [("not started", "")]


def test_a_step_that_hangs_on_an_answer_given_otherwise_does_not_come(small, now):
    outline = to(small, now, "Read the air", Choose_the_glue="epoxy").frame.outline
    cut = [line for line in outline if line.text == "Cut the cartridge"]
    assert [(line.mark, line.condition) for line in cut] == [("not applicable", "for Choose the glue: From a cartridge")]


def test_the_last_reading_is_said_in_the_units_of_the_project(small, now):
    small.log_temperature("65 °F", now())
    assert small.last_reading(now()).startswith("18 °C, ")
    small.set("system", "inch", now())
    assert small.last_reading(now()).startswith("65 °F, ")


def test_a_step_that_ends_a_clock_is_on_time_or_late(small, now):
    to(small, now, "Spread the pot")
    pot = small.project.clocks[small.run.clocks["pot"]]
    assert pot.length == timedelta(minutes=40)
    assert small.view(now()).frame.late == ""
    place = small.run.place
    small.done(pot.due_at - timedelta(minutes=1))
    assert small.run.marks[place].late_s is None
    small.take_back(now())
    assert small.project.clocks[pot.key].ended_at is None
    late = pot.due_at + timedelta(minutes=5)
    assert small.view(late).frame.late.endswith("Do not use it. Set the pot outside.")
    small.done(late)
    assert small.run.marks[place].late_s == 300
    assert "5:00 late" in {line.text: line.shown for line in small.view(late).frame.outline}["Spread the pot"]
    now.at = late
    assert "Late: Spread the pot (5 min late)" in " ".join(through(small, now).frame.detail)


def test_a_clock_whose_time_the_shelf_does_not_have_is_asked_for(home, now):
    resin = materials()["epoxy-2to1-slow"]
    figures = {name: text for name, text in resin.figures.items() if name != "clamp"}
    shelf = {**materials(), resin.name: replace(resin, figures=figures)}
    session = Session.create(sessions.project_path("x"), "x", now(), shelf)
    session.begin(session.add_part("P", now()), every_step(), now())
    view = to(session, now, "Start the clamp time")
    assert isinstance(view, EnterView)
    assert "type the data-sheet time" in view.problems[0]
    for text in ("0", "15 d", "2 g", ""):
        with pytest.raises(EntryError):
            session.answer(text, now())
    with pytest.raises(NotNow):
        session.done(now())
    assert session.answer("90", now()) == "90 min"
    assert session.project.clocks[session.run.clocks["clamp"]].due_at == now() + timedelta(minutes=90)
    session.close()


def test_a_step_tells_which_figures_it_goes_by_are_borrowed_until_they_are_confirmed(home, now):
    slow = materials()["epoxy-2to1-slow"]
    copy = recipes.copied(slow, "My epoxy", {})
    session = Session.create(sessions.project_path("x"), "x", now(), {copy.name: copy, **materials()})
    session.begin(session.add_part("P", now()), every_step(), now())
    view = to(session, now, "Start the clamp time", Choose_the_resin=copy.name)
    told = f"My epoxy: clamp borrowed from {slow.title}; check your data sheet."
    assert told in view.frame.detail
    session.shelf = {**session.shelf, copy.name: recipes.confirmed(copy, "clamp")}
    assert not [words for words in session.view(now()).frame.detail if "borrowed" in words]
    session.close()


def test_alarms_sound_once_and_are_acknowledged_most_urgent_first(small, now):
    to(small, now, "Spread the pot")
    pot = small.project.clocks[small.run.clocks["pot"]]
    small.start_clock("Kettle", "NOT BEFORE", pot.due_at - now() - timedelta(minutes=1), now())
    small.start_clock("Own", "DO BEFORE", timedelta(days=2), now())
    assert [clock.title for clock in small.clocks] == ["Pot life", "Kettle", "Own"]
    assert small.tick(pot.warns_at - timedelta(seconds=1)) == []
    assert [clock.title for clock in small.tick(pot.warns_at)] == ["Pot life"]
    assert small.tick(pot.warns_at) == []
    assert [clock.title for clock in small.tick(pot.due_at)] == ["Pot life", "Kettle"]
    assert small.tick(pot.due_at) == []
    now.at = pot.due_at
    # Both have 2 min to act: the one due first is the first.
    assert small.acknowledge(now.on(seconds=1)) == "SEEN Kettle"
    assert small.acknowledge(now.on(seconds=1)) == "SEEN Pot life"
    with pytest.raises(NotNow):
        small.acknowledge(now())
    assert clocks_.state(small.clocks[0], now()) is State.DUE_ACKNOWLEDGED
    assert small.tick(now.on(hours=9)) == []
    assert small.take_back(now()) == "Pot life"
    assert clocks_.state(small.clocks[0], now()) is State.DUE


def test_an_alarm_comes_before_a_caution(small, now):
    to(small, now, "WARNING")
    small.start_clock("Own", "DO BEFORE", timedelta(minutes=10), now())
    small.tick(now.on(minutes=11))
    assert small.acknowledge(now.on(seconds=1)) == "SEEN Own"
    assert small.acknowledge(now()) == "READ WARNING"


def test_what_fell_due_while_it_was_shut_is_missed_with_its_time(small, now):
    to(small, now, "Spread the pot")
    due = small.clocks[0].due_at
    small.close()
    now.at = due + timedelta(minutes=7)
    again = Session.open(small.log.path, now(), materials())
    (clock,) = again.clocks
    assert clocks_.state(clock, now()) is State.MISSED
    assert times.alarm_text(clock, now()).startswith(f"MISSED {times.wall(due, now())}, 7 min ago · Pot life")
    assert again.tick(now()) == []
    again.close()
    again = Session.open(small.log.path, now.on(minutes=1), materials())
    assert [event.kind for event in again.log.events()].count("alarm") == 1
    assert again.acknowledge(now()) == "SEEN Pot life"
    assert clocks_.state(again.clocks[0], now()) is State.DUE_ACKNOWLEDGED
    again.close()


# Taking back


def test_a_whole_run_is_taken_back_step_by_step(small, now):
    states = {}

    def noted(view):
        at = small.log.events()[-1].at
        states[len(small.project.undo)] = (state(small), at, small.view(at))
        return isinstance(view, FinishedView)

    now.at = follow(small, now(), {}, until=noted)
    count, events = 0, len(small.log.events())
    by_itself = sum(event.data.get("by_itself", False) for event in small.log.events())
    keys = len(small.project.undo) - by_itself
    assert (keys > 25, by_itself > 5) == (True, True)
    while small.project.undo:
        small.take_back(now())
        count += 1
        if len(small.project.undo) in states:
            before, at, view = states[len(small.project.undo)]
            assert state(small) == before
            small.project = without_old_answers(small.project)
            assert small.view(at) == view
    with pytest.raises(NotNow, match="nothing to undo"):
        small.take_back(now())
    assert (small.run.values, small.clocks) == ({}, [])
    assert len(small.log.events()) == events + count
    assert count == keys


def test_each_kind_of_event_is_taken_back_with_its_name(small, now):
    def taken_back(act, name):
        before, view = state(small), small.view(now())
        act()
        assert state(small) != before
        assert small.take_back(now()) == name
        small.project = without_old_answers(small.project)
        assert (state(small), small.view(now())) == (before, view)

    taken_back(lambda: small.answer("epoxy", now()), "Choose the glue")
    to(small, now, "Pass the air", Read_the_air="12")
    taken_back(lambda: small.measure_again(now()), "again")
    taken_back(lambda: small.override("The meter is wrong", now()), "Pass the air")
    small.measure_again(now())
    small.answer("20", now())
    to(small, now, "Judge the film")
    taken_back(lambda: small.judge("broken", now()), "Film broken")
    taken_back(lambda: small.judge("whole", now()), "Judge the film")
    to(small, now, "WARNING")
    taken_back(lambda: small.acknowledge(now()), "WARNING")
    to(small, now, "Start the pot life")
    taken_back(lambda: small.done(now()), "Start the pot life")
    small.done(now())
    small.tick(now.on(minutes=41))
    now.on(seconds=1)
    taken_back(lambda: small.acknowledge(now()), "Pot life")
    taken_back(lambda: small.end_clock(small.clocks[0].key, now()), "Pot life")
    small.acknowledge(now())
    to(small, now, "Leave it flat")
    taken_back(lambda: small.done(now()), "Leave it flat")
    small.done(now())
    taken_back(lambda: small.repeat("enough", now()), "Section complete")
    through(small, now)
    taken_back(lambda: small.done(now()), "finished")


# What a kill leaves out


def killed_after(session, now, monkeypatch):
    """Do the step in hand as if the program were killed before it records what follows."""
    with monkeypatch.context() as patched:
        patched.setattr(Session, "_run_on", lambda *_: None)
        session.done(now())


def test_the_end_of_a_section_that_a_kill_left_out_follows_at_the_next_start(small, now, tmp_path, monkeypatch):
    """Nothing is decided there, so no key is asked for; it has the time of the step that ended the section."""
    to(small, now, "Start the window")
    killed_after(small, now, monkeypatch)
    path, at = shutil.copy(small.log.path, tmp_path / "killed.shopmate"), now()
    again = Session.open(path, now.on(hours=2), materials())
    follows = [(event.kind, event.data.get("by_itself"), event.at) for event in again.log.events()[-2:]]
    assert follows == [("section", True, at), ("opened", None, now())]
    assert again.view(now()).headline == "Spread the coat"
    again.close()


def test_what_a_kill_left_out_is_not_recorded_by_one_that_only_reads(small, now, monkeypatch):
    to(small, now, "Start the window")
    killed_after(small, now, monkeypatch)
    events = small.log.events()
    reader = Session.open(small.log.path, now(), materials())
    assert reader.read_only
    assert reader.log.events() == events
    reader.close()


def test_a_hold_point_that_its_clock_opened_meanwhile_is_not_passed_unseen_at_the_next_start(small, now):
    to(small, now, "Start the clamp time")
    small.done(now())
    small.close()
    again = Session.open(small.log.path, now.on(hours=48), materials())
    assert again.view(now()).headline == "Wait for the clamps"
    assert [event.data["stage"] for event in again.log.events() if event.kind == "alarm"][-1:] == ["missed"]
    again.close()


# Alarms: each transition is in the file


def test_a_kill_after_any_transition_of_an_alarm_loses_none(small, now, tmp_path):
    """The file is copied as a kill would leave it, and opened anew at the same moment."""
    to(small, now, "Spread the pot")
    (pot,) = small.clocks
    reached, number = [], iter(range(100))

    def stands():
        at = now()
        copy = tmp_path / f"{next(number)}.shopmate"
        shutil.copy(small.log.path, copy)
        again = Session.open(copy, at, materials())
        assert again.clocks == small.clocks
        assert [clocks_.state(clock, at) for clock in again.clocks] == [clocks_.state(clock, at) for clock in small.clocks]
        again.close()
        reached.append(clocks_.state(small.project.clocks[pot.key], at))

    stands()
    now.at = pot.warns_at
    small.tick(now())
    stands()
    now.on(seconds=1)
    small.shelve(1, now())
    stands()
    small.tick(now.on(minutes=1))
    stands()
    small.acknowledge(now.on(seconds=1))
    stands()
    now.at = pot.due_at
    small.tick(now())
    stands()
    small.acknowledge(now.on(seconds=1))
    stands()
    small.end_clock(pot.key, now.on(minutes=1))
    stands()
    assert reached == [
        State.ARMED, State.PRE_ALARM, State.SHELVED, State.PRE_ALARM, State.ARMED, State.DUE, State.DUE_ACKNOWLEDGED, State.DONE,
    ]  # fmt: skip
    kinds = [event.kind for event in small.log.events() if event.data.get("clock") == pot.key]
    assert kinds == ["alarm", "shelved", "returned", "acknowledged", "alarm", "acknowledged", "ended"]


def test_a_clock_gives_one_pre_alarm_and_one_alarm(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=20), now())
    small.start_clock("Heater", "NOT BEFORE", timedelta(minutes=20), now())
    for _ in range(240):
        small.tick(now.on(seconds=20))
    stages = [event.data["stage"] for event in small.log.events() if event.kind == "alarm"]
    assert sorted(stages) == ["due", "due", "pre"]


def aging(small, now, minutes):
    start = {
        "name": "pot", "title": "Pot life", "kind": "DO BEFORE", "seconds": 60.0 * minutes, "sheet_celsius": 25.0,
        "action": "Spread it", "if_late": "Leave it.", "time_to_act_s": 120.0, "consequence": "It sets",
    }  # fmt: skip
    small._record(ClockStarted(Limit(**start), "Pot life"), now())


def test_a_warning_moved_away_by_a_colder_shop_is_given_anew(small, now):
    small.log_temperature("25 °C", now())
    aging(small, now, 60)
    assert small.tick(now.on(minutes=48))
    small.acknowledge(now.on(seconds=1))
    small.log_temperature("15 °C", now())
    (clock,) = small.clocks
    assert clock.warns_at > now()
    assert clocks_.state(clock, now()) is State.ARMED
    assert [raised.title for raised in small.tick(clock.warns_at)] == ["Pot life"]
    assert clocks_.alarms(small.clocks, clock.warns_at)


def test_an_alarm_seen_for_a_reading_that_is_taken_back_comes_again_at_the_right_time(small, now):
    small.log_temperature("25 °C", now())
    aging(small, now, 60)
    small.log_temperature("38 °C", now.on(minutes=10))
    (clock,) = small.clocks
    wrong = now.at = clock.due_at
    small.tick(now())
    small.acknowledge(now.on(seconds=1))
    small.take_back(now.on(seconds=1))
    small.take_back(now.on(seconds=1))
    (clock,) = small.clocks
    assert clock.due_at > wrong + timedelta(minutes=5)
    assert clocks_.state(clock, now()) is State.ARMED
    small.tick(clock.due_at)
    assert clocks_.state(small.clocks[0], clock.due_at) is State.DUE


def test_putting_off_never_goes_beyond_the_limit_and_the_most_urgent_is_put_off_once(small, now):
    small.start_clock("Kettle", "DO BEFORE", timedelta(minutes=20), now())
    small.tick(now.on(minutes=17))
    small.shelve(10, now())
    (clock,) = small.clocks
    assert clock.shelved_until == clock.due_at
    assert small.tick(clock.due_at) == [small.clocks[0]]
    assert clocks_.state(small.clocks[0], clock.due_at) is State.DUE
    small.take_back(now())
    small.shelve(1, now())
    small.tick(now.on(minutes=1))
    with pytest.raises(NotNow, match="cannot be snoozed"):
        small.shelve(1, now())


def test_only_a_recipe_that_is_looked_at_is_read(small, now):
    """As after an update without a calculator that an older recipe asks."""
    run = next(event for event in small.log.events() if event.kind == "run")
    older = dict(run.data) | {"text": str(run.data["text"]).replace("calculator: dewpoint", "calculator: former")}
    other = small.log.append("run", older, now())
    small.log.append("chosen", {"run": str(run.id)}, now())
    small.close()
    session = Session.open(small.log.path, now(), materials())
    with pytest.raises(FileProblems, match="there is no calculator 'former'"):
        session.choose(str(other.id), now())
    assert session.run.key == str(run.id)
    session.log.append("chosen", {"run": str(other.id)}, now())
    session.close()
    for _ in range(2):  # the lock was let go
        with pytest.raises(FileProblems, match="there is no calculator 'former'"):
            Session.open(small.log.path, now(), materials())


def test_a_clock_is_numbered_without_a_name_and_with_one_that_runs_already(small, now):
    small.start_own("20", now())
    small.start_own("20", now(), "Heater")
    small.start_own("20", now(), "Heater")
    small.start_own("20", now(), "Eighteen signs 234")
    small.start_own("20", now(), "Eighteen signs 234")
    titles = [clock.title for clock in small.clocks]
    assert titles == ["Timer 1", "Heater", "Heater 2", "Eighteen signs 234", "Eighteen signs 2 2"]
    small.end_clock(small.clocks[1].key, now())
    small.start_own("20", now(), "Heater")
    assert small.clocks[-1].title == "Heater"


def test_a_name_that_does_not_fit_beside_the_time_of_a_clock_is_refused_whole(small, now):
    with pytest.raises(EntryError, match="too long for a clock; use 18 characters or fewer"):
        small.start_own("20", now(), "Nineteen signs 2345")
    assert small.clocks == []


def figures_done(*figures):
    """Return the words of a step that is done with figures of these labels, numbers and units."""
    return told([Figure(label, Shown(number, unit), label) for label, number, unit in figures])


def test_what_the_figures_of_a_done_step_agree_on_is_said_once():
    assert figures_done(("Empty the pot by", "19.5", "min"), ("Use by", "19.5", "min")) == "19.5 min"
    assert figures_done(("Use by", "19.5", "min")) == "19.5 min"


def test_figures_of_a_done_step_that_differ_have_their_labels_and_a_verdict_none():
    apart = figures_done(("verdict", "GO", ""), ("Empty the pot by", "19.4", "min"), ("Use by", "19.5", "min"))
    assert apart == "GO, Empty the pot by: 19.4 min, Use by: 19.5 min"
    assert figures_done(("Dew point", "12", "°C"), ("Margin", "12", "K")) == "Dew point: 12 °C, Margin: 12 °C"
