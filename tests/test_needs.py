"""What a recipe knows beyond its steps: what it uses, how long it takes, what it makes of a part and is accepted by."""

import re
from dataclasses import replace as changed
from datetime import timedelta
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from small_recipe import small_recipe

from shopmate import recipe as recipes
from shopmate.errors import FileProblems
from shopmate.log import Log
from shopmate.recipe import Do, WhenValue
from shopmate.session import EnterView, FinishedView, Session, find_recipe
from shopmate.session.demo import follow
from shopmate.session.draft import Draft
from shopmate.session.needs import needs, shown_span, time_ahead
from shopmate.session.needs import shown as in_words
from shopmate.session.sheet import sheet

RECIPE = small_recipe(
    "two-coats",
    """
after: [bare, dry]
makes: coated
uses:
  - {material: "{resin}", amount: "{strip.mix}"}
  - {material: "{resin}", amount: 100 g, times: "{coats}", waste: 50 %}
  - {material: Peel ply, amount: "{length}", waste: 10 %, when: {cover: ply}}
  - {material: Cups, amount: "3", times: 2}
  - {material: Cups, amount: "1"}
asks:
  - {ask: Give the length, into: length, unit: m, default: 2 m}
  - {ask: Choose the resin, into: resin, shelf: resin, default: epoxy-2to1-slow}
  - {ask: Count the coats, into: coats, count: [1, 6], default: "2"}
  - {ask: Choose the cover, into: cover, choices: {ply: Peel ply, bare: Nothing}, default: bare}
sections:
  - section: Take off
    mode: do-confirm
    takes: 10 min
    steps:
      - work out: Work out the strip
        calculator: laminate
        with: {length: "{length}", width: 100 mm, cloth: 200 g/m²}
        into: strip
      - do: Cut the cloth
      - do: Wipe the strip
      - {do: Lay out the ply, when: {cover: ply}}
      - do: Set out the cups
  - section: Coat
    mode: read-do
    takes: 20 min
    repeat: {each: coat, times: coats}
    until: Stop when it is full.
    steps:
      - do: Roll it on
      - start: Let it go off
        clock: tacky
        title: Tacky
        kind: NOT BEFORE
        time: 2 h
        note: Counts from now.
        action: Look at it
        if_late: No harm.
        time_to_act: 1 h
        consequence: It drags.
      - do: Wash the roller
      - do: Sweep the floor
      - {wait: Wait for the tack, clock: tacky}
  - section: Cure
    mode: read-do
    takes: 5 min
    steps:
      - start: Start the cure
        clock: cure
        title: Cure
        kind: NOT BEFORE
        time: 7 d
        note: Counts from now.
        action: Use it
        if_late: No harm.
        time_to_act: 1 h
        consequence: It is soft.
      - do: Tent the work
      - do: Write the label
      - do: Sweep the floor
      - do: Close the door
accept:
  - {check: No bubble, by: A low lamp along the strip}
""",
)


def read(text=RECIPE):
    return recipes.read(text, "two-coats.yaml", "two-coats")


def drafted(texts=None, text=RECIPE, system="metric"):
    draft = Draft(read(text), texts or {}, materials(), BEGAN, system)
    draft.work_through()
    draft.run.place = changed(draft.run.place, section=0, step=0)
    return draft


def shown(texts=None, text=RECIPE, system="metric"):
    draft = drafted(texts, text, system)
    return [in_words(used, draft.values) for used in needs(draft.values)]


def test_a_recipe_says_what_it_makes_and_what_comes_before():
    recipe = read()
    assert (recipe.makes, recipe.after) == ("coated", ("bare", "dry"))
    assert recipe.uses[2].when == (WhenValue("cover", ("ply",)),)
    assert recipe.sections[1].takes.text == "10 min"


def test_what_it_is_accepted_by_is_its_last_section_and_cannot_wait():
    last = read().sections[-1]
    assert (last.name, last.mode) == ("Acceptance", "do-confirm")
    (step,) = last.steps
    assert (step.headline, step.act, step.can_wait) == ("No bubble", Do(), False)
    assert [line.text for line in step.detail] == ["A low lamp along the strip"]


def test_all_of_it_may_be_left_out():
    text = RECIPE
    for key in ("after:", "makes:", "    takes:"):
        text = "\n".join(line for line in text.splitlines() if not line.startswith(key))
    text = text[: text.index("uses:")] + text[text.index("asks:") :]
    text = text[: text.index("accept:")] + text[text.index("sources:") :]
    recipe = read(text)
    assert (recipe.uses, recipe.makes, recipe.after, recipe.sections[-1].name) == ((), "", (), "Cure")
    assert shown(text=text) == []


def test_amounts_of_one_material_are_added_up_with_their_waste():
    # 2 coats of 100 g and half as much again are 300 g; the rest is the calculator's own figure.
    draft = drafted()
    strip = draft.run.values["strip.mix"].quantity.value_in("g")
    epoxy, cups = needs(draft.values)
    assert epoxy.material == "epoxy-2to1-slow"
    assert epoxy.amount.value_in("g") == pytest.approx(300 + strip)
    assert in_words(cups, draft.values) == "7 × Cups"


def test_what_hangs_on_an_answer_is_used_only_with_it():
    assert not any("Peel ply" in line for line in shown())
    assert "Peel ply: 2.2 m" in shown({"cover": "ply"})
    assert any(line.startswith("Peel ply: ") and line.endswith(" in") for line in shown({"cover": "ply"}, system="inch"))


def test_an_amount_that_no_value_tells_is_said_to_be_not_known():
    text = RECIPE.replace("        into: strip\n", "        into: strip\n        when: {cover: ply}\n")
    assert shown(text=text)[0] == "Epoxy 2:1 by volume, slow: amount not known yet"


def test_hands_on_time_counts_every_turn_and_waiting_what_the_hands_do_not_fill():
    draft = drafted()
    span = time_ahead(draft.values, {}, BEGAN)
    # 10 + 2 coats of 20 + 5 min; a section without a time, the acceptance, makes it the least.
    assert span.hands_on == timedelta(minutes=55)
    # A step is a fifth of its section: 12 of the 120 min pass in the three steps after the start and the waiting itself.
    assert span.waiting == 2 * timedelta(minutes=120 - 12)
    assert not span.is_whole
    assert shown_span(span) == "hands-on at least 55 min, waiting 3 h 36 min"


def test_a_time_is_the_least_while_the_number_of_turns_is_not_known():
    text = RECIPE[: RECIPE.index("accept:")] + RECIPE[RECIPE.index("sources:") :]
    draft = drafted(text=text)
    assert time_ahead(draft.values, {}, BEGAN).is_whole
    del draft.run.values["coats"]
    assert not time_ahead(draft.values, {}, BEGAN).is_whole


def test_a_clock_nobody_waits_for_is_over_after_the_end():
    draft = drafted()
    span = time_ahead(draft.values, {}, BEGAN)
    assert span.cured == span.whole - timedelta(minutes=4) + timedelta(days=7)


def test_what_is_behind_the_place_counts_no_more():
    draft = drafted()
    whole = time_ahead(draft.values, {}, BEGAN)
    draft.run.place = changed(draft.run.place, section=2, turn=2, step=0)
    left = time_ahead(draft.values, {}, BEGAN)
    assert left.hands_on == timedelta(minutes=25)
    assert left.waiting == whole.waiting / 2


def test_the_sheet_says_what_is_used_how_long_it_takes_and_what_it_makes():
    text = sheet(read(), {"cover": "ply"}, materials(), BEGAN)
    lines = text.splitlines()
    assert "After: bare, dry." in lines
    assert "Makes: coated." in lines
    assert "- **Peel ply: 2.2 m**" in lines
    assert any(line.startswith("Time: hands-on at least 55 min") for line in lines)
    assert "- [ ] 1. **No bubble** (do)" in lines


OPERATION = """
operation: lay
about: A ply of a made-up cloth.
takes: {cloth: needed, wide: "no"}
gives: {length: long}
uses:
  - {material: "{cloth}", amount: "{long}", times: 2}
  - {material: Tape, amount: "{long}", only: {wide: "yes"}}
sections:
  - section: Lay it
    mode: do-confirm
    takes: 30 min
    steps:
      - {ask: Give its length, into: long, unit: m, default: 3 m}
      - do: Roll it out
      - do: Press it down
      - do: Trim the edge
      - do: Sweep the floor
"""


@pytest.fixture
def lay(home):
    """An operation that consumes something, among the user's own."""
    folder = home / "recipes" / "operations"
    folder.mkdir(parents=True)
    (folder / "lay.yaml").write_text(OPERATION, encoding="utf-8")


def using(*uses):
    head, sections, rest = RECIPE.partition("sections:\n")
    return head + sections + "".join(f"  - {use}\n" for use in uses) + rest


def test_what_an_operation_consumes_is_consumed_by_its_recipe_under_its_own_names(lay):
    text = using('{use: lay, with: {cloth: "Veil"}}', '{use: lay, with: {cloth: Felt, wide: "yes"}, as: felt}')
    recipe = read(text)
    assert [use.amount.text for use in recipe.uses[5:]] == ["{lay_long}", "{felt_long}", "{felt_long}"]
    assert shown(text=text)[2:] == ["Veil: 6 m", "Felt: 6 m", "Tape: 3 m"]
    assert recipe.sections[1].takes.text == "30 min"
    assert recipes.read_kept(recipe.text).uses == recipe.uses


def test_what_an_operation_consumes_hangs_on_the_condition_of_its_use(lay):
    text = using("{use: lay, with: {cloth: Veil}, when: {cover: ply}}")
    assert "Veil: 6 m" not in shown(text=text)
    assert "Veil: 6 m" in shown({"cover": "ply"}, text)


def test_an_amount_an_operation_does_not_give_is_told_in_its_own_file(lay, home):
    path = home / "recipes" / "operations" / "lay.yaml"
    path.write_text(OPERATION.replace('amount: "{long}", times', 'amount: "{short}", times'), encoding="utf-8")
    with pytest.raises(FileProblems) as caught:
        read(using("{use: lay, with: {cloth: Veil}}"))
    assert [problem.file for problem in caught.value.problems] == [str(path)]


def test_what_is_still_to_go_goes_down_step_by_step_and_by_the_clock_that_runs(home):
    now = BEGAN
    session = Session.create(home / "a.shopmate", "A", now, materials())
    session.begin(session.add_part("Strip 1", now), read(), now)
    assert session.view(now).frame.ahead == "still to do: hands-on at least 55 min, waiting 3 h 36 min"
    now = follow(session, now, {}, until=lambda view: view.headline == "Wait for the tack")
    (clock,) = session.clocks
    left = clock.due_at - now
    span = time_ahead(session._judge(now).values, session.project.clocks, now)
    # The coat in hand and the second one; the clock of the first runs.
    assert span.waiting == left - timedelta(minutes=4) + timedelta(minutes=108)
    assert span.hands_on == timedelta(minutes=4 + 20 + 5)
    session.close()


def test_what_is_answered_before_the_hands_are_done_with_the_steps_in_front_of_it_is_not_to_do_again():
    """The struts have no pots, of which more could turn out to be needed: what is to do never grows."""
    session = Session(Log(Path("a.shopmate"), in_memory=True), materials())
    session.begin(session.add_part("Roof", BEGAN), find_recipe("struts"), BEGAN)
    session.foresee(BEGAN)
    left, asked = [], []

    def look(view):
        if found := re.search(r"at least (?:(\d+) h )?(\d+) min", view.frame.ahead):
            left.append(int(found[1] or 0) * 60 + int(found[2]))
            asked.extend(left[-1:] if isinstance(view, EnterView) else ())
        return isinstance(view, FinishedView)

    follow(session, BEGAN, {}, until=look)
    assert left == sorted(left, reverse=True)
    assert asked == sorted(set(asked), reverse=True), "an answer takes something off"
    assert (left[0] > 60, left[-1] < 10) == (True, True)


def begun(home, now):
    session = Session.create(home / "a.shopmate", "A", now, materials())
    told = session.before("Strip 1", read(), {}, now)
    session.begin(session.add_part("Strip 1", now), read(), now)
    return session, told


def test_the_bench_says_at_the_start_what_was_told_before_it(home):
    session, told = begun(home, BEGAN)
    assert f"Time: {session.view(BEGAN).frame.ahead.removeprefix('still to do: ')}" in told
    session.close()


def test_an_answer_that_is_not_the_usual_one_counts_from_the_next_look_on(home):
    session, _ = begun(home, BEGAN)
    usual = session.view(BEGAN).frame.ahead
    session.answer("2 m", BEGAN)
    session.answer("epoxy-2to1-slow", BEGAN)
    assert session.foresee(BEGAN)
    assert not session.foresee(BEGAN)
    assert session.view(BEGAN).frame.ahead == usual
    session.answer("3", BEGAN)
    assert session.foresee(BEGAN)
    assert session.view(BEGAN).frame.ahead == "still to do: hands-on at least 75 min, waiting 5 h 24 min"
    session.close()


def test_nothing_is_said_of_the_time_to_go_of_a_run_until_a_look_worked_it_out(home):
    session, _ = begun(home, BEGAN)
    said = session.view(BEGAN).frame.ahead
    session.begin(session.add_part("Strip 2", BEGAN), read(), BEGAN)
    session.choose(next(iter(session.project.runs)), BEGAN)
    assert session.view(BEGAN).frame.ahead == ""
    assert session.foresee(BEGAN)
    assert session.view(BEGAN).frame.ahead == said
    session.close()
    session = Session.open(home / "a.shopmate", BEGAN, materials())
    assert session.view(BEGAN).frame.ahead == ""
    session.foresee(BEGAN)
    assert session.view(BEGAN).frame.ahead == said
    session.close()


def test_answers_given_ahead_count_before_they_are_taken(home):
    session = Session.create(home / "a.shopmate", "A", BEGAN, materials())
    part = session.add_part("Strip 1", BEGAN)
    session.plan(part, read(), {"coats": "3"}, BEGAN)
    (plan,) = session.project.plans
    session.begin(part, read(), BEGAN, plan)
    assert "hands-on at least 75 min" in session.view(BEGAN).frame.ahead
    session.close()
