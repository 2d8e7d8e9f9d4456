"""A recipe on paper: answers given, assumed or left to write in, figures worked out, and what is wrong said all at once."""

import re
from dataclasses import replace

import pytest
from conftest import BEGAN, every_step, materials

from shopmate import calc
from shopmate import recipe as recipes
from shopmate.cli import signs
from shopmate.errors import InputError
from shopmate.recipe import Gate
from shopmate.session import find_recipe
from shopmate.session.brief import SPELLED_WIDTH, brief
from shopmate.session.sheet import sheet

BLANK = "\\_\\_\\_\\_\\_\\_"


def of(answers=None, shelf=None, system="metric", **more):
    return sheet(every_step(), answers or {}, shelf or materials(), BEGAN, system, **more)


def lines(text):
    return text.splitlines()


def test_answers_given_stand_apart_from_those_assumed():
    text = of({"length": "6 ft", "coats": "3"})
    assert "- Count the coats (coats): **3**" in lines(text)
    assert "- Choose the glue (glue): **Thickened epoxy** (assumed)" in lines(text)
    (length,) = [line for line in lines(text) if "(length)" in line]
    assert "1828.8 mm" in length
    assert "assumed" not in length
    assert "3 times, once each coat. Stop when the weave is full." in lines(text)


def test_what_a_recipe_says_is_nothing_but_text_in_markdown():
    text = every_step().text.replace("Choose the glue", "Choose *the* <b>glue")
    recipe = replace(recipes.read(text, "every-step.yaml"), about="# no heading |", needs=("[x] no box", "1. no list"))
    got = lines(sheet(recipe, {}, materials(), BEGAN))
    assert "- Choose \\*the\\* \\<b>glue (glue): **Thickened epoxy** (assumed)" in got
    assert "\\# no heading |" in got
    assert "- \\[x] no box" in got
    assert "- 1\\. no list" in got


def test_each_system_shows_its_own_units():
    inch = of({"length": "1828.8 mm"}, system="inch")
    assert "72 in" in inch
    assert "Read the air" in inch
    assert "(expected 68 °F)" in inch
    assert "(expected 20 °C)" in of()


def test_the_figures_are_those_of_the_calculators():
    resin = materials()["epoxy-2to1-slow"].figures
    result = calc.run("mix", {
        "ratio": resin["ratio"], "resin": "250 g",
        "resin_density": resin["resin_density"], "hardener_density": resin["hardener_density"],
    })  # fmt: skip
    reading = result.outputs["scale_hardener"].value_in("g")
    text = of({"poured": "250"})
    assert f"  - Scale reads after hardener: **{reading:.1f} g**" in lines(text)
    assert f"  - Hardener to: **{reading:.1f} g**" in lines(text)
    assert all(f"  - {line}" in lines(text) for line in result.working)
    assert all(f"- mix: {source}" in lines(text) for source in result.sources)


def in_brief(answers=None, system="metric"):
    return brief(every_step(), answers or {}, materials(), BEGAN, system)


def test_in_brief_the_working_and_the_sources_are_left_off():
    short, whole = in_brief({"poured": "250"}), of({"poured": "250"})
    assert len(lines(short)) < len(lines(whole)) / 2
    assert "- mix: " not in short
    assert "hardener per 100 g resin" not in short
    assert "hardener per 100 g resin" in whole
    assert f"shopmate sheet {every_step().name} --working" in short.replace("\n", " ").replace("\\", "")


def test_in_brief_every_step_that_is_done_has_a_box_and_its_figures():
    short = " ".join(in_brief({"poured": "250"}).split())
    for section in every_step().sections[1:]:
        assert f"**{section.name}" in short
    assert "☐ Weigh the resin …………" in short
    reading = calc.run("mix", {
        "ratio": materials()["epoxy-2to1-slow"].figures["ratio"], "resin": "250 g",
        "resin_density": materials()["epoxy-2to1-slow"].figures["resin_density"],
        "hardener_density": materials()["epoxy-2to1-slow"].figures["hardener_density"],
    }).outputs["scale_hardener"].value_in("g")  # fmt: skip
    assert f"☐ Stir two full minutes (Hardener to {reading:.1f} g)" in short


def in_one_line(answers=None, system="metric"):
    return " ".join(in_brief(answers, system).split())


def test_in_brief_limits_stand_beside_the_reading_that_they_are_of():
    short = in_one_line({"air": "21"})
    assert "☐ Read the air ………… °C (18 to 35 °C)" in short
    assert "☐ Pass the air" not in short


def test_in_brief_a_reading_is_written_in_the_unit_of_its_limits():
    inch = in_one_line({"length": "1828.8 mm"}, "inch")
    assert "☐ Read the air ………… °F (expected 68 °F) (64.4 to 95 °F)" in inch
    assert "☐ Read the humidity ………… % (expected 50 %)" in inch
    assert "☐ Weigh the resin ………… g " in inch
    assert "Give the length **72 in**" in inch
    assert not re.search(r"°C|\d mm| K\b", inch)


def test_in_brief_limits_and_words_of_the_recipe_itself_are_in_the_units_of_the_sheet():
    text = every_step().text.replace("{resin.temperature_low}", "15 °C").replace("Tip off the coat", "Tip off 50 mm")
    recipe = replace(recipes.read(text, "every-step.yaml"), needs=("A 100 mm roller",))
    inch = " ".join(brief(recipe, {}, materials(), BEGAN, "inch").split())
    assert "(59 to 95 °F)" in inch
    assert not re.search(r"°C|\d mm", inch)


def test_in_brief_what_rests_on_a_reading_to_be_taken_is_no_figure_yet():
    short, given = in_one_line(), in_one_line({"air": "20", "humidity": "50", "surface": "20", "poured": "100"})
    assert "☐ Read the surface ………… °C (expected 20 °C)" in short
    assert "☐ Pass the dew point: ………… (expected Dew point 9.3 °C, Surface above dew point by 10.7 °C)" in short
    assert "☐ Pass the dew point: **Dew point 9.3 °C, Surface above dew point by 10.7 °C**" in given
    reading = r"\d+\.\d g"
    assert re.search(rf"☐ Stir two full minutes \(expected Hardener to {reading}\)", short)
    assert re.search(rf"☐ Stir two full minutes \(Hardener to {reading}\)", given)
    assert "expected" not in given
    # One reading that is still to be taken is enough.
    assert "☐ Pass the dew point: ………… (expected" in in_one_line({"air": "20", "humidity": "50", "poured": "100"})


def test_in_brief_what_a_step_works_out_is_left_to_the_figure_that_gives_it_and_stands_alone_without_one():
    text = every_step().text
    assert "Work out the pot" not in in_one_line()
    figures = re.findall(r"\n +figures:\n +Hardener to: [^\n]*(?=\n)", text)
    assert len(figures) == 1
    alone = recipes.read(text.replace(figures[0], ""), "every-step.yaml")
    for answers, wanted in (({}, r"………… \(expected \d+\.\d g\)"), ({"poured": "100"}, r"\*\*\d+\.\d g\*\*")):
        short = " ".join(brief(alone, answers, materials(), BEGAN).split())
        assert re.search(f"Work out the pot: {wanted}", short)


def test_in_brief_what_is_expected_is_given_again_only_when_it_changes():
    short = " ".join(brief(find_recipe("glassing"), {}, materials(), BEGAN).split())
    pots = re.findall(r"☐ A pot you timed ………… g(?: \(expected (\d+) g\))?", short)
    assert pots == ["350", "250", "350", ""]
    assert short.count("☐ Surface temperature ………… °C") == 4  # seal coat, cloth, two fill coats
    assert short.count("☐ Surface temperature ………… °C (expected 20 °C) (18 to 35 °C)") == 1
    assert short.count("(18 to 35 °C)") == 8  # of the face and of the bottles


@pytest.mark.parametrize(("covered", "stands"), [("all", True), ("more", False)])
def test_in_brief_a_step_that_hangs_on_an_answer_of_its_own_section_stands_with_it(covered, stands):
    short = brief(find_recipe("sections"), {"covered": covered}, materials(), BEGAN)
    assert ("Set the section down" in short) == stands


def test_in_brief_a_condition_that_holds_to_the_end_of_a_section_is_given_once():
    short = " ".join(brief(find_recipe("glassing"), {}, materials(), BEGAN).split())
    assert re.search(r"Once time is up on 'Recoat by': ☐ Wash off the blush ☐ Abrade the film dull \d+\. \*\*", short)
    assert "While 'Next coat before' runs: ☐ Leave it flat" in in_one_line()


@pytest.mark.parametrize("system", ["metric", "inch"])
def test_in_brief_the_longest_sheet_has_lines_to_spare_on_its_two_pages(system):
    about = find_recipe("glassing"), {}, materials(), BEGAN, system
    assert len(brief(*about).splitlines()) <= 130 - 2
    signs.spell_out()
    assert len(brief(*about, lambda text: text.encode("ascii", "spell-out").decode("ascii")).splitlines()) <= 130


def test_in_brief_every_caution_hold_point_and_judgement_stays():
    recipe = find_recipe("glassing")
    short = " ".join(brief(recipe, {}, materials(), BEGAN).split())
    whole = " ".join(sheet(recipe, {}, materials(), BEGAN).split())
    cautions = {caution.text.text for section in recipe.sections for step in section.steps for caution in step.cautions}
    told = [words for words in cautions if "{" not in words and words in whole]
    assert len(told) > 10
    assert [words for words in told if short.count(words) != 1] == []
    judged = [step for section in recipe.sections for step in section.steps if isinstance(step.act, Gate)]
    # The plan judged anew at each turn is the one exception: its first one stands.
    remedies = {step.act.if_no for step in judged if step.act.if_no in whole and step.headline != "Pots left to mix"}
    assert remedies
    assert [words for words in remedies if short.count(f"Else: {words}") != 1] == []


def test_in_brief_a_clock_that_rests_on_a_reading_is_expected_and_one_by_the_sheet_is_not():
    asked = "      - ask: Time the window\n        into: open\n        unit: min\n        near: {value: 30 min, within: 50 %}\n"
    text = every_step().text.replace("      - start: Start the window", f"{asked}      - start: Start the window")
    recipe = recipes.read(text.replace("time: 5 h", 'time: "{open}"', 1), "every-step.yaml")
    for answers, wanted in (({}, "expected 30 min"), ({"open": "30"}, "30 min")):
        short = " ".join(brief(recipe, answers, materials(), BEGAN).split())
        assert f"☐ Next coat before: DO BEFORE {wanted} → …………" in short
        assert "☐ Pot life: DO BEFORE 40 min → …………" in short


def test_in_brief_a_step_that_hangs_on_a_clock_says_so():
    short = in_one_line()
    assert "Once time is up on 'Next coat before': ☐ Abrade the coat" in short
    assert "While 'Next coat before' runs: ☐ Leave it flat" in short
    assert "☐ Roll out the coat ☐ Tip off the coat Once" in short


def test_in_brief_what_does_not_apply_is_left_off_and_turns_are_counted():
    assert "Cut the cartridge" not in in_one_line()
    assert "☐ Cut the cartridge" in in_one_line({"glue": "cartridge"})
    assert "**Coat (3 ×, each coat)** ☐" in in_one_line({"coats": "3"})


def test_in_brief_what_the_shelf_does_not_have_is_left_to_write_in():
    resin = materials()["epoxy-2to1-slow"]
    bare = {name: resin.figures[name] for name in ("ratio", "resin_density", "hardener_density", "pot_life")}
    short = " ".join(brief(every_step(), {}, {resin.name: replace(resin, figures=bare)}, BEGAN).split())
    assert "☐ Clamps off from: NOT BEFORE ………… → …………" in short
    assert "☐ Read the air ………… °C (expected 20 °C) (………… to …………)" in short
    assert "—" not in short


def test_in_brief_what_cannot_be_worked_out_is_left_to_write_in():
    text = every_step().text.replace("        default: 50 %\n", "")
    text = text.replace("        near: {value: 100 g, within: 20 %}\n", "")
    short = " ".join(brief(recipes.read(text, "every-step.yaml"), {}, materials(), BEGAN).split())
    assert "☐ Read the surface ………… °C (expected 20 °C) ☐ Pass the dew point: ………… Else: Warm the work itself. ☐" in short
    assert "☐ Weigh the resin ………… g Work out the pot: ………… ☐ Pot life" in short


def test_in_brief_a_word_with_a_hyphen_stays_whole():
    recipe = replace(every_step(), needs=("a" * 80, "ball-ended-where-three-panels-meet"))
    assert "ball-ended-where-three-panels-meet." in brief(recipe, {}, materials(), BEGAN).splitlines()


def test_in_brief_a_hold_point_says_once_what_to_do_where_it_stays_shut():
    short = in_one_line()
    assert "☐ Read the air ………… °C (expected 20 °C) (18 to 35 °C) Else: Warm the shop first. ☐" in short
    assert "☐ Judge the film (Film whole) Else: Clean it again. " in short
    remedies = [step.act.if_no for section in every_step().sections for step in section.steps if isinstance(step.act, Gate)]
    assert len(remedies) >= 3
    assert {words: short.count(words) for words in remedies} == dict.fromkeys(remedies, 1)


def test_in_brief_a_remedy_stands_after_the_figures_of_its_step():
    text = every_step().text.replace("- gate: Judge the film", "- gate: Judge the film\n        figures: {Rub: 20 times}")
    short = " ".join(brief(recipes.read(text, "every-step.yaml"), {}, materials(), BEGAN).split())
    assert "☐ Judge the film (Film whole) (Rub 20 times) Else: Clean it again." in short


def test_in_brief_a_plan_judged_anew_is_told_once_as_long_as_it_is_the_same():
    short = " ".join(brief(find_recipe("glassing"), {}, materials(), BEGAN).split())
    for job, pots in (("Seal coat", 1), ("Wet-out", 2)):
        assert re.search(rf"\*\*{job}: plan\*\*[^*]*☐ Pots to mix: ………… \(expected Pots {pots},", short)
    assert "Pots left to mix" not in short


def test_in_brief_what_is_expected_of_a_weighing_is_said_once():
    short = " ".join(brief(find_recipe("glassing"), {}, materials(), BEGAN).split())
    assert re.search(r"☐ Pour the resin ………… g \(expected Resin to [\d.]+ g, Then hardener to [\d.]+ g\)", short)
    assert not re.search(r"☐ Pour the \w+ ………… g \(expected [\d.]+ g\)", short)


@pytest.mark.parametrize("system", ["metric", "inch"])
@pytest.mark.parametrize("name", ["bonding", "fillet", "glassing", "surface-prep"])
def test_in_brief_lines_are_broken_after_their_signs_are_spelled_out(name, system):
    def in_seven_bits(text):
        return text.encode("ascii", "spell-out").decode("ascii")

    signs.spell_out()
    got = brief(find_recipe(name), {}, materials(), BEGAN, system, in_seven_bits).splitlines()
    assert all(line.isascii() for line in got)
    assert max(map(len, got)) <= SPELLED_WIDTH
    assert not [line for line in got if line.endswith("[") or line.lstrip().startswith("]")], "a box is broken"
    assert sum(line.count("[ ]") for line in got) > 10


def test_in_brief_a_box_stays_with_the_first_word_of_its_step():
    for name in ("fillet", "glassing"):
        assert not [line for line in brief(find_recipe(name), {}, materials(), BEGAN).splitlines() if line.endswith("☐")]


def test_in_brief_a_caution_is_said_once():
    short = " ".join(in_brief().split())
    found = {caution.text.text for section in every_step().sections for step in section.steps for caution in step.cautions}
    assert found
    for words in found:
        assert short.count(words) == 1


def test_in_brief_lines_are_no_longer_than_a_page_is_wide_and_texts_are_text():
    text = every_step().text.replace("Choose the glue", "Choose *the* <b>glue")
    recipe = replace(recipes.read(text, "every-step.yaml"), needs=("[x] no box",))
    got = brief(recipe, {}, materials(), BEGAN)
    assert max(map(len, lines(got))) <= 100
    assert "\\*the\\* \\<b>glue" in got
    assert "\\[x] no box" in got


def test_in_brief_an_answer_that_is_none_is_refused():
    with pytest.raises(InputError, match="length"):
        in_brief({"length": "banana"})
    with pytest.raises(InputError, match="asks for no such thing"):
        in_brief({"lenght": "2 m"})


def test_steps_are_boxes_to_tick_with_their_cautions_before_them():
    text = of()
    at = text.index("**Weigh the resin**")
    caution = text.index("**WARNING:** Hardener on the skin can start an allergy that lasts for life.")
    assert text.index("## 2. Mix") < caution < text.index("**NOTICE:**") < at
    numbers = re.findall(r"^- \[ \] (\d+)\.", text.partition("## 2. Mix")[2].partition("## 3.")[0], re.MULTILINE)
    assert numbers == ["1", "2", "3", "4", "5", "6"]


def test_clocks_hold_points_and_conditions_are_written_out():
    text = of()
    assert f"  - DO BEFORE, 40 min from now: Spread the pot now. Started {BLANK}, due {BLANK}" in lines(text)
    assert "  - If late: Do not use it. Set the pot outside." in lines(text)
    assert "  - Hold point: passes with 18 °C or more and 35 °C or less. Else: Warm the shop first." in lines(text)
    assert "  - Hold point: passes with verdict go. Else: Warm the work itself." in lines(text)
    assert "  - Hold point: passes with Film whole. Else: Clean it again." in lines(text)
    assert "  - Hold point: go on when the clock is due." in lines(text)
    assert "- [ ] 4. Once time is up on 'Next coat before': **Abrade the coat** (do)" in lines(text)
    assert f"  - air: {BLANK} (expected 20 °C)" in lines(text)


def test_steps_that_do_not_apply_are_left_off():
    assert "Cut the cartridge" not in of()
    assert "7. **Cut the cartridge**" in of({"glue": "cartridge"})


def test_what_the_shelf_does_not_have_is_left_to_write_in():
    resin = materials()["epoxy-2to1-slow"]
    bare = {name: resin.figures[name] for name in ("ratio", "resin_density", "hardener_density", "pot_life")}
    text = of(shelf={resin.name: replace(resin, figures=bare)})
    assert f"NOT BEFORE, {BLANK} from now: Take the clamps off." in text
    assert f"passes with {BLANK} or more and {BLANK} or less." in text
    assert "—" not in text


def test_a_no_go_is_shown_with_its_figures():
    text = of({"air": "20", "surface": "10", "humidity": "80"})
    assert "Verdict: no go" in text
    assert re.search(r"Surface above dew point by: \*\*[−-]6\.\d °C\*\*", text)


def test_what_cannot_be_worked_out_says_why_in_its_place():
    resin = materials()["epoxy-2to1-slow"]
    text = of(shelf={resin.name: replace(resin, figures={**resin.figures, "ratio": "2:1"})})
    (line,) = [line for line in lines(text) if "not worked out" in line]
    assert "ratio" in line
    assert "**Wash your hands**" in text


def test_every_wrong_answer_is_named_at_once():
    with pytest.raises(InputError) as caught:
        of({"lenth": "1", "length": "9 m", "coats": "7", "glue": "tar", "resin": "glass-200-plain", "air": "2 kg"})
    assert {problem.field for problem in caught.value.problems} == {"lenth", "length", "coats", "glue", "resin", "air"}
    words = str(caught.value)
    assert "asks for no such thing; it asks: glue, resin, coats, length, air, humidity, surface, poured" in words
    assert "the shelf has no resin 'glass-200-plain'; give one of: epoxy-2to1-slow" in words


def test_the_same_answers_give_the_same_sheet_at_any_time():
    assert sheet(every_step(), {}, materials(), BEGAN.replace(year=2031)) == of()
