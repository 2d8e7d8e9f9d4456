"""What goes otherwise than planned at a pot: one key from where it is seen, then only the reading."""

import re
from datetime import timedelta

import pytest
from conftest import BEGAN, materials
from tui_bench import opened

from shopmate.log import Log
from shopmate.session import CautionView, FinishedView, Session, find_recipe
from shopmate.session.demo import follow


@pytest.fixture
def worked(tmp_path, now):
    """Return a function that works a glue of epoxy in two pots as far as a step, and returns the file."""

    def work(headline, turn=1):
        path = tmp_path / "p.shopmate"
        session = Session(Log(path, create=True), materials())
        session.name("Rehearsal", "metric", BEGAN)
        session.begin(session.add_part("Part", BEGAN), find_recipe("bonding"), BEGAN)
        given = {"Glue": "epoxy", "Bond length": "8 m", "Time for that pot": "30 min"}
        reached = follow(
            session, BEGAN, given, until=lambda view: view.headline == headline and view.place.turn == turn and not closed(view)
        )
        session.close()
        now.on(seconds=(reached - now()).total_seconds())
        return path

    return work


def closed(view):
    return isinstance(view, CautionView | FinishedView)


def grams(at, name):
    return at.session.run.values[name].quantity.value_in("g")


def pot(at):
    return next(place for place in at.view.frame.places if place.startswith("pot "))


async def go(at, now, until):
    """Go on as far as a view by what each step offers."""
    reached = follow(at.session, now(), {}, until=until)
    now.on(seconds=(reached - now()).total_seconds())
    await at.tick()


async def mix(at, share):
    """Pour a pot of a share of what is planned."""
    far_off = "E" if share > 1.2 else ""  # that is asked about once
    await at.press(f"{grams(at, 'glue_plan.scale_resin') * share:.1f}E{far_off}")
    await at.press(f"{grams(at, 'glue_pot.scale_hardener'):.1f}E")


async def test_over_poured_resin_takes_its_reading_alone(worked, now):
    async with opened(now, worked("Pour the resin")) as at:
        over = round(grams(at, "glue_plan.scale_resin") * 1.15, 1)
        await at.press(f"{over}E")
        assert at.view.headline == "Pour the hardener"
        hardener = grams(at, "glue_pot.scale_hardener")
        assert hardener > grams(at, "glue_plan.scale_hardener") * 1.1
        assert at.view.frame.figures[0].shown.number == f"{hardener:.1f}"


async def test_short_of_hardener_is_one_key_and_the_new_reading(worked, now):
    async with opened(now, worked("Pour the hardener")) as at:
        aim = round(grams(at, "glue_pot.scale_hardener"), 1)
        await at.press(f"{aim * 0.9:.1f}EE")  # an odd one is asked about once
        assert at.view.go is False
        await at.press("1")
        assert at.view.headline == "Pour the hardener"
        await at.press(f"{aim}E")
        assert at.view.headline == "Stir two minutes"


@pytest.mark.parametrize(
    "headline", ["Pour the hardener", "Stir two minutes", "Wet both faces", "Does a peak bend over?", "Spread one face"]
)
async def test_spilled_is_one_key_wherever_the_pot_is_in_hand(worked, now, headline):
    async with opened(now, worked(headline)) as at:
        before = pot(at)
        assert (".", "spilled") in [(key if key != "full_stop" else ".", word) for key, word in at.shown]
        await at.press(".")
        assert isinstance(at.view, CautionView)
        assert "gloves on, soak it up" in re.sub(r"\s+", " ", at.text)
        await at.press("*")
        assert at.view.headline == "Fresh cup, scale zeroed"
        assert (before[:5], pot(at)[:5]) == ("pot 1", "pot 2")


async def test_a_point_typed_within_a_reading_spills_nothing(worked, now):
    async with opened(now, worked("Pour the hardener")) as at:
        await at.press("1.")
        assert at.view.headline == "Pour the hardener"
        assert at.session.run.spilled == {}


async def test_one_pot_more_is_one_key_with_the_last_step_of_the_last(worked, now):
    async with opened(now, worked("Pour the resin", turn=2)) as at:
        await mix(at, 1.1)
        await go(at, now, lambda view: view.headline == "Spread one face")
        await at.press("1")
        assert (at.view.headline, pot(at)) == ("Fresh cup, scale zeroed", "pot 3 of 3")
        assert at.session.run.values["glue_plan.verdict"].value == "enough is mixed", "what the key says is reason enough"
        assert grams(at, "glue_plan.scale_resin") > 0


async def test_one_pot_less_is_one_key_before_it_is_begun(worked, now):
    async with opened(now, worked("Fresh cup, scale zeroed", turn=2)) as at:
        await at.press("1")
        assert at.view.frame.section == "Close the joint"


async def test_a_slip_of_the_key_is_taken_back(worked, now):
    async with opened(now, worked("Stir two minutes")) as at:
        (life,) = [clock for clock in at.session.clocks if clock.name == "glue_life"]
        await at.press(". -E")
        assert (at.view.headline, pot(at)) == ("Stir two minutes", "pot 1 of 2")
        assert at.session.project.clocks[life.key].ended_at is None
        assert now() - at.session.project.clocks[life.key].started_at < timedelta(hours=1)


async def test_poured_enough_for_all_it_is_left_off_with_one_key(worked, now):
    async with opened(now, worked("Pour the resin")) as at:
        planned = at.session.run.values["glue_plan.pots"].value
        await mix(at, 2.2)
        await go(at, now, lambda view: view.place.turn == 2 or view.frame.section != "Glue")
        assert planned == 2
        assert (at.view.go, at.view.verdict) == (False, "enough is mixed"), "no turn of the user's own choice"
        await at.press("1")
        assert at.view.frame.section == "Close the joint"


async def pour_hardener(at, reading):
    """Type a reading of the hardener; one that is far off is asked about once."""
    await at.press(f"{reading:.2f}E")
    if at.view.headline == "Pour the hardener":
        await at.press("E")


@pytest.mark.parametrize(("off", "headline"), [(-0.02, "Stir two minutes"), (0.02, "Pour resin to match")])
async def test_hardener_over_its_limit_asks_for_resin_to_match(worked, now, off, headline):
    async with opened(now, worked("Pour the hardener")) as at:
        await pour_hardener(at, grams(at, "glue_pot.scale_high") + off)
        assert at.view.headline == headline


async def test_over_poured_hardener_takes_the_reading_with_resin_to_match_alone(worked, now):
    async with opened(now, worked("Pour the hardener")) as at:
        poured, phr = grams(at, "glue_poured"), grams(at, "glue_pot.hardener") / grams(at, "glue_poured")
        (before,) = [clock for clock in at.session.clocks if clock.name == "glue_life"]
        hardener = poured * phr * 1.12
        now.on(seconds=40)
        await pour_hardener(at, poured + hardener)
        assert at.view.headline == "Pour resin to match"
        whole = hardener + hardener / phr
        assert at.view.frame.figures[0].shown.number == f"{whole:.1f}", "what the scale reads, not zeroed again"
        assert "instead of" in re.sub(r"\s+", " ", at.text)
        (life,) = [clock for clock in at.session.clocks if clock.name == "glue_life"]
        assert (life.started_at, life.due_at < before.due_at) == (before.started_at, True), "a bigger pot lasts less"
        await at.press(f"{whole:.1f}E")
        assert at.view.headline == "Stir two minutes"
        assert grams(at, "glue_mixed") == pytest.approx(whole, abs=0.05), "the pot is counted once, as the scale read last"
        await go(at, now, lambda view: view.place.turn == 2 and view.headline == "Pour the resin")
        assert grams(at, "glue_plan.rest") == pytest.approx(grams(at, "glue_plan.total") - whole, abs=0.1)
        assert at.session.project.pots["glue_life"][-1].mass == pytest.approx(whole, abs=0.05)


@pytest.mark.parametrize(
    ("limit", "off", "go"), [("topped_low", -0.02, False), ("topped_low", 0.02, True), ("topped_high", -0.02, True),
                             ("topped_high", 0.02, False)]
)  # fmt: skip
async def test_resin_to_match_is_judged_like_the_first_readings(worked, now, limit, off, go):
    async with opened(now, worked("Pour the hardener")) as at:
        await pour_hardener(at, grams(at, "glue_pot.scale_high") + 1)
        reading = grams(at, f"glue_match.{limit}") + off
        await at.press(f"{reading:.2f}E")
        if at.view.headline == "Pour resin to match":
            await at.press("E")
        if go:
            assert at.view.headline == "Stir two minutes"
            return
        assert (at.view.headline, at.view.go) == ("Ratio right now", False)
        before = grams(at, "glue_reading")
        await at.press("1")
        assert at.view.headline == "Pour resin to match"
        assert grams(at, "glue_mixed") == pytest.approx(before), "without the reading gone back to, the one before counts"


async def test_a_pot_too_big_with_resin_to_match_is_thrown_out_with_one_key(worked, now):
    async with opened(now, worked("Pour the hardener")) as at:
        bound = grams(at, "glue_plan.bound")
        share = grams(at, "glue_pot.hardener") / grams(at, "glue_pot.total")
        await pour_hardener(at, grams(at, "glue_poured") + bound * share + 0.2)
        assert (at.view.headline, at.view.go) == ("Pot still small enough", False)
        assert "mix only what you can use" in re.sub(r"\s+", " ", at.text)
        await at.press(".*")
        assert (at.view.headline, pot(at)[:5]) == ("Fresh cup, scale zeroed", "pot 2")


async def test_a_pot_just_small_enough_with_resin_to_match_goes_on(worked, now):
    async with opened(now, worked("Pour the hardener")) as at:
        share = grams(at, "glue_pot.hardener") / grams(at, "glue_pot.total")
        await pour_hardener(at, grams(at, "glue_poured") + grams(at, "glue_plan.bound") * share - 0.2)
        assert at.view.headline == "Pour resin to match"
