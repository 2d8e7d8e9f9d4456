"""The recipes that come with the program: followed to their end every way they can go, and held to how one is written."""

import re
import textwrap
from datetime import timedelta
from itertools import chain, product
from pathlib import Path

import pytest
from conftest import BEGAN, materials
from shipped_run import IN_MONTHS

from shopmate import paths, units
from shopmate import recipe as recipes
from shopmate.dialogue.step import said
from shopmate.log import Log
from shopmate.recipe import Ask, Between, ChoiceAnswer, CountAnswer, Do, Gate, MeasureAnswer, ShelfAnswer, Start, Wait, WorkOut
from shopmate.records import replace
from shopmate.session import FinishedView, Session
from shopmate.session.demo import follow
from shopmate.session.sheet import sheet
from shopmate.session.values import GAP
from shopmate.session.viewer import condition

RECIPES = {path.stem: recipes.load(path) for path in sorted(paths.shipped_recipes().glob("*.yaml"))}
STEPS = [(recipe, section, step) for recipe in RECIPES.values() for section in recipe.sections for step in section.steps]
HURT = re.compile(r"\b(skin|lung|eye|burn|fire|cancer|allerg|asthma|poison|nerve|blind|cut|hurt|injur|harm)", re.IGNORECASE)


def named(case):
    recipe, section, step = case
    return f"{recipe.name}: {section.name}: {step.headline}"


def answers(act):
    """The answers to a question worth trying: each choice, each material, the greatest count."""
    if isinstance(act.answer, ChoiceAnswer):
        return tuple(act.answer.choices)
    if isinstance(act.answer, ShelfAnswer):
        return tuple(name for name, material in materials().items() if material.kind == act.answer.kind)
    return (str(act.answer.high),) if isinstance(act.answer, CountAnswer) else ()


def ways(recipe):
    """Every combination of the choices at the start, in metric; each other answer with the last of them, in inches."""
    start = {step.headline: answers(step.act) for step in recipe.sections[0].steps if isinstance(step.act.answer, ChoiceAnswer)}
    for chosen in product(*start.values()):
        yield dict(zip(start, chosen, strict=True)), "metric"
    last = {headline: keys[-1] for headline, keys in start.items()}
    for step in chain.from_iterable(section.steps for section in recipe.sections):
        if isinstance(step.act, Ask) and step.headline not in start:
            yield from (({**last, step.headline: answer}, "inch") for answer in answers(step.act))


WAYS = [(name, way, system) for name, recipe in RECIPES.items() for way, system in ways(recipe)]


def test_there_are_recipes_and_many_ways_through_them():
    assert {"bonding", "fillet", "glassing", "surface-prep"} <= RECIPES.keys()
    assert len(WAYS) > 70


PACE = {"foam-core": timedelta(seconds=20)}
"""Where a step takes less than a minute: foam creams within 45 s."""


def whole(view):
    """Check that a view leaves nothing open; return whether it is the last one."""
    words = said(view)
    assert words.problems == ()
    shown = [view.headline, *view.frame.detail, words.if_no, words.advice, *(figure.shown.number for figure in words.figures)]
    assert GAP not in " ".join(shown)
    assert "{" not in " ".join(shown)
    assert all(figure.shown.number.strip() and figure.label.strip() for figure in view.frame.figures)
    return isinstance(view, FinishedView)


@pytest.mark.parametrize(("name", "way", "system"), WAYS, ids=[f"{n}-{s}-{' '.join(w.values())}" for n, w, s in WAYS])
def test_followed_to_the_end(name, way, system):
    session = Session(Log(Path("rehearsal.shopmate"), in_memory=True), materials())
    session.name("Rehearsal", system, BEGAN)
    session.begin(session.add_part("Part", BEGAN), RECIPES[name], BEGAN)
    # How thick a skin is, nothing tells: it is measured.
    given = {"Thickness of the piece": "6 mm"} if "skin" in way.values() else {}
    # A full sheet of glue on foam is spread before a medium hardener gels by fast hands alone.
    given |= {"Time for that pot": "6 min"} if (name, way.get("Resin")) == ("skins", "epoxy-2to1-medium") else {}
    now = follow(session, BEGAN, given | way, until=whole, pace=PACE.get(name, timedelta(seconds=70)))
    marks = session.run.marks.values()
    assert session.run.finished_at is not None
    assert not [mark.shown for mark in marks if mark.shown.startswith("overridden: ")], "a hold point does not pass as expected"
    assert not [mark for mark in marks if mark.late_s], "a step a minute is too slow for a clock"
    ringing = {clock.title for clock in session.clocks if clock.kind == "DO BEFORE"}
    assert ringing <= IN_MONTHS, "a clock is left to ring for nothing"
    assert now > BEGAN


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("name", RECIPES)
def test_the_sheet_works_everything_out(name, system):
    text = sheet(RECIPES[name], {}, materials(), BEGAN, system)
    assert "not worked out" not in text
    assert GAP not in text
    assert "{" not in text
    body, sources = text.split("## Sources\n")
    blanks = [line for line in body.splitlines() if "\\_" in line and "expected" not in line and "Started" not in line]
    # Only what nobody can expect is left to be written in: an answer without a default or a likely value.
    assert all(re.fullmatch(r"  - [a-z0-9 ]+: [\\_]+", line) for line in blanks)
    assert not re.search(r"\*\* *\*\*|: \*\*(None|nan|inf)", body)
    assert all(re.search(r"\[(read|computed|common practice|memory)\]$", line) for line in sources.strip().splitlines())
    assert all(f"## {number}. {section.name}" in body for number, section in enumerate(RECIPES[name].sections) if number == 1)


@pytest.mark.parametrize("name", RECIPES)
def test_the_sheet_of_every_choice_works_out(name):
    starts = [step.act for step in RECIPES[name].sections[0].steps]
    for act in starts:
        for answer in answers(act):
            text = sheet(RECIPES[name], {act.into: answer}, materials(), BEGAN)
            assert "not worked out" not in text


@pytest.mark.parametrize("case", STEPS, ids=named)
def test_a_headline_is_read_from_two_metres_and_its_details_up_close(case):
    _, _, step = case
    assert len(step.headline) <= 26
    assert len(textwrap.wrap(step.headline, 13, break_long_words=False)) <= 2
    assert all(len(line) <= 13 for line in textwrap.wrap(step.headline, 13, break_long_words=False))
    assert len(step.detail) <= 2
    assert all(len(line.text) <= 60 for line in step.detail)
    assert not re.search(r" and then | then |; ", " ".join([step.headline, *(line.text for line in step.detail)]))


VERBS = {step.headline.split()[0].lower() for _, _, step in STEPS if isinstance(step.act, Do)}


@pytest.mark.parametrize("case", [case for case in STEPS if case[2].cautions], ids=named)
def test_a_caution_says_the_hazard_and_leaves_the_action_to_the_steps(case):
    for caution in case[2].cautions:
        text = caution.text.text
        assert caution.signal in ("DANGER", "WARNING", "CAUTION", "NOTICE")
        assert len(text) <= 120
        for sentence in re.split(r"(?<=[.!]) ", text):
            first = sentence.split()[0].lower()
            assert first not in VERBS - {"dust", "cut"} or re.search(
                rf"^{first} (\w+ )*(can|may|is|are|of|in|at)\b", sentence.lower()
            )
        if caution.signal == "NOTICE":
            assert not HURT.search(text), "an injury is no NOTICE"
        if caution.signal == "DANGER":
            assert caution.reason


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_what_cannot_wait_or_be_undone_is_followed_step_by_step(recipe):
    assert recipe.sections[0].name == "Start"
    for section in recipe.sections[1:]:
        if any(isinstance(step.act, Start) and step.act.kind == "DO BEFORE" for step in section.steps):
            assert section.mode == "read-do", section.name
        if section.repeat is not None:
            assert section.repeat.until


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_a_clock_says_what_it_is_for_and_is_ended_or_waited_for(recipe):
    steps = list(chain.from_iterable(section.steps for section in recipe.sections))
    for index, step in enumerate(steps):
        act = step.act
        if not isinstance(act, Start):
            continue
        assert act.kind in ("DO BEFORE", "NOT BEFORE")
        assert all((act.note, act.action, act.if_late, act.consequence, act.time.text, act.time_to_act.text))
        later = steps[index + 1 :]
        ended = any(other.ends == act.clock for other in later)
        waited = any(isinstance(other.act, Wait) and other.act.clock == act.clock for other in later)
        assert ended or waited or act.kind == "NOT BEFORE" or act.title in IN_MONTHS, f"nothing ends {act.clock}"


def sticks(recipe):
    """Whether a recipe prepares a bond or makes one: with resin, glue, foam or tape."""
    kinds = {
        getattr(step.act.answer, "kind", None)
        for section in recipe.sections
        for step in section.steps
        if isinstance(step.act, Ask)
    }
    return recipe.makes == "prepared" or not kinds.isdisjoint({"resin", "adhesive", "glue", "foam", "tape"})


@pytest.mark.parametrize("recipe", [one for one in RECIPES.values() if sticks(one)], ids=lambda recipe: recipe.name)
def test_what_can_kill_a_bond_is_answered_with_a_value(recipe):
    """Temperature wherever glue or epoxy goes on; resin, and hardener held to its limits, wherever a pot is mixed."""
    steps = list(chain.from_iterable(section.steps for section in recipe.sections))
    measured = {
        step.act.into: step.act.answer.unit
        for step in steps
        if isinstance(step.act, Ask) and isinstance(step.act.answer, MeasureAnswer)
    }
    assert "°C" in measured.values()
    judged = [step.act.by for step in steps if isinstance(step.act, Gate)]
    assert any(isinstance(by, WorkOut) and by.calculator == "dewpoint" for by in judged)
    for index, section in enumerate(recipe.sections):
        repeated = recipe.repeated(index)
        # A pot may be weighed in the section before the one that starts its clock.
        turn = (
            [recipe.sections[one] for one in repeated[0]]
            if repeated is not None
            else recipe.sections[max(0, index - 1) : index + 1]
        )
        acts = [step.act for one in turn for step in one.steps]
        if any(isinstance(step.act, Start) and step.act.clock.endswith("life") for step in section.steps):
            pots = {act.into for act in acts if isinstance(act, WorkOut) and act.calculator == "mix"}
            limits = [act.by for act in acts if isinstance(act, Gate) and isinstance(act.by, Between)]
            held = {
                name.partition(".")[0] for by in limits if by.low and by.high for name in by.low.references + by.high.references
            }
            assert held & pots, f"{section.name}: the hardener is not held to the limits of its pot"


NAMES = {
    "AAMA", "AC", "AMPP", "ANSI", "ASTM", "CFR", "CO", "Douglas-fir", "FAA", "GPa", "Guide", "ISO", "NIOSH", "OSHA", "P", "PVA",
    "Pocket", "SSPC",
}  # fmt: skip
"""Public bodies, their handbooks, a species of wood, a kind of glue and a unit: no makers."""


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_no_word_looks_like_a_brand(recipe):
    steps = list(chain.from_iterable(section.steps for section in recipe.sections))
    texts = [recipe.title, recipe.about, *recipe.needs, *recipe.sources]
    for step in steps:
        texts += [step.headline, *(line.text for line in step.detail), *(caution.text.text for caution in step.cautions)]
        act = step.act
        if isinstance(act, Ask) and isinstance(act.answer, ChoiceAnswer):
            texts += act.answer.choices.values()
        elif isinstance(act, Gate):
            texts += [act.if_no, *act.reasons]
        elif isinstance(act, Start):
            texts += [act.title, act.note, act.action, act.if_late, act.consequence]
    odd = set()
    for text in texts:
        assert not re.search("[®™©]", text)
        odd |= {match[0] for match in re.finditer(r"(?<=[a-z0-9,)] )[A-Z][A-Za-z-]+", text)}
    assert odd - NAMES == set()


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_what_can_kill_a_bond_comes_before_the_work_it_rules(recipe):
    """Temperatures are read, pots planned and hold points of the weather passed before anything else of their section is done.

    Only what they need comes before: fresh gloves, a scale at zero, the nozzle through which a test bead is laid.
    """
    needed = re.compile("glove|scale|nozzle|clamps", re.IGNORECASE)
    for section in recipe.sections[1:]:
        acts = [step.act for step in section.steps]
        critical = [
            index
            for index, act in enumerate(acts)
            if (isinstance(act, Ask) and isinstance(act.answer, MeasureAnswer) and act.answer.unit in ("°C", "g"))
            or (isinstance(act, WorkOut) and act.calculator in ("mix", "pots", "potlife"))
            or (isinstance(act, Gate) and isinstance(act.by, WorkOut) and act.by.calculator == "dewpoint")
        ]
        if not critical:
            continue
        before = [step.headline for step in section.steps[: critical[0]] if isinstance(step.act, Do) and not step.when]
        assert [headline for headline in before if not needed.search(headline)] == [], section.name


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_the_mass_of_a_batch_its_ratio_and_its_time_are_never_a_tick(recipe):
    """Whatever is mixed is weighed as a value, its hardener is held to limits, and its limit of time is a clock."""
    steps = list(chain.from_iterable(section.steps for section in recipe.sections))
    weighed = {step.act.into for step in steps if isinstance(step.act, Ask) and getattr(step.act.answer, "unit", "") == "g"}
    poured = [step for step in steps if step.headline.startswith(("Pour the", "Weigh"))]
    assert all(isinstance(step.act, Ask) and step.act.into in weighed for step in poured)
    hardeners = {step.act.into for step in poured if "hardener" in step.headline}
    held = {step.act.by.value.lone_reference for step in steps if isinstance(step.act, Gate) and isinstance(step.act.by, Between)}
    assert hardeners <= held
    if hardeners:
        assert any(
            isinstance(step.act, Start) and step.act.kind == "DO BEFORE" and step.act.clock.endswith("life") for step in steps
        )


SHOUTED = re.compile(r"\b[A-Z]{3,}\b")


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_capitals_are_for_signal_words_and_block_headlines(recipe):
    """What a recipe says is in mixed case: signal words stand apart, and block headlines are drawn by the program."""
    texts = [recipe.title, *(section.name for section in recipe.sections)]
    for step in chain.from_iterable(section.steps for section in recipe.sections):
        texts += [step.headline, *(line.text for line in step.detail), *(caution.text.text for caution in step.cautions)]
        act = step.act
        if isinstance(act, Start):
            texts += [act.title, act.note, act.action, act.if_late, act.consequence]
        elif isinstance(act, Gate):
            texts += [act.if_no, *act.reasons]
    assert {word for text in texts for word in SHOUTED.findall(text)} <= NAMES | {"P100"}


@pytest.mark.parametrize("recipe", RECIPES.values(), ids=lambda recipe: recipe.name)
def test_a_step_says_its_conditions_first(recipe):
    for section in recipe.sections:
        for step in section.steps:
            words = condition(recipe, step)
            assert bool(words) == bool(step.when)
            assert "_" not in words
            assert not re.search(r"^(if|when)\b|\b(if|when) ", step.headline, re.IGNORECASE), (
                "a condition is no part of a headline"
            )


def test_each_alarm_says_what_to_do_how_soon_and_why_and_the_most_urgent_are_no_majority():
    alarms = [(recipe, step.act) for recipe, _, step in STEPS if isinstance(step.act, Start)]
    urgent = 0
    for recipe, act in alarms:
        assert act.action
        assert act.if_late
        assert act.consequence
        to_act = units.parse(act.time_to_act.text, "min").value_in("min")
        assert 0 < to_act <= 24 * 60, f"{recipe.name}: {act.title}"
        urgent += to_act <= 2
    assert 0 < urgent < len(alarms) / 2


@pytest.mark.parametrize("name", RECIPES)
def test_is_the_same_when_it_is_read_as_kept_with_a_run(name):
    kept = recipes.read(RECIPES[name].text, name, kept=True)
    assert [_placeless(section) for section in kept.sections] == [_placeless(section) for section in RECIPES[name].sections]


def _placeless(section):
    """A section without the lines its steps stand at: one that uses operations is kept as one text."""
    return replace(section, steps=tuple(replace(step, line=0) for step in section.steps))
