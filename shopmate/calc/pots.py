"""A job split into pots, or what is left of it: how many, how large, what the scale reads, whether each is worked in time."""

from __future__ import annotations

import math
from collections.abc import Mapping

from shopmate import units
from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Count,
    Example,
    Field,
    Measure,
    Output,
    RatioKind,
    Source,
    Stock,
    Threshold,
    Value,
)
from shopmate.errors import FieldProblem
from shopmate.models import cure, mixing
from shopmate.models.constants import INSTANT, NOISE, STIR
from shopmate.models.fields import given, in_unit, refuse, round_up, some, together
from shopmate.models.pot import BIG_POT, BIG_POT_SOURCE, WARM
from shopmate.models.pot_size import Cup
from shopmate.models.use_by import POT_LIFE_FIGURES, REACH, Sheet, apart_problems, resin_of
from shopmate.picture import number, size
from shopmate.records import dataclass, replace
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_CUP, _POURED = "from the cup", "poured out at once"
"""How a pot is used: worked out of its cup, or all of it poured on the face or into a tray as soon as it is stirred."""

_POURING = "5 min"
"""From the first drop of hardener until a pot for a flat face is out of its cup: stirring and pouring [common practice]."""

_IN_HAND = "15 %"
"""Share of the pot life that no pot is planned into: no two pots go alike [common practice]."""

_HABIT = Source(
    "3 min of pouring and stirring, 15 % of the pot life in hand, 5 % on the hardener, 500 g as a big pot, 10 g as the least",
    "common practice",
)
_GUESS = Source("a pot three times larger or smaller is another kind of work (ours)", "common practice")
_IN_AN_INSTANT = Source("under a minute of spreading a pot was ticked off, not worked (ours)", "common practice")
_AGREES = Source("up to 5 times the sheet's mass the model's answers for gel and an earlier end of use agree to 9 %", "computed")
_FINEST_SCALE = Source("scales at a bench weigh to the milligram at the finest", "common practice")

_NO_PACE = {"use_by": "", "pace_mass": "", "pace_minutes": ""}
_ONE_POT = {"needed": "100 g", "use_by": "100 min"}
"""Cases of the limits, beside the first worked example (ours)."""

_POURED_JOB = {
    **_NO_PACE,
    "largest": "",
    "way": _POURED,
    "sheet_time": "20 min",
    "sheet_mass": "100 g",
    "sheet_temperature": "25 °C",
    "temperature": "25 °C",
}
"""A job poured out at once by a data sheet, beside the first worked example (ours)."""

_LEAST_POT = Threshold(10.0, "g", _HABIT, "hardly more than cup and brush keep", "rest", "490 g", "490.05 g", "mixed")
_BIG_POT = Threshold(
    BIG_POT, "g", BIG_POT_SOURCE, "in one pot warms itself", "each", "500 g", "501 g", "needed", {**_NO_PACE, "largest": "600 g"}
)
_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE, "%", _HABIT, "more than the usual 5 %", "scale_error", "1.255 g", "1.256 g", "scale_step", _ONE_POT
)
_FAR = Threshold(3.0, "", _GUESS, "your pace is from a pot of", "", "33.4 g", "33.3 g", "pace_mass", _ONE_POT)
_INSTANT = Threshold(INSTANT, "min", _IN_AN_INSTANT, "is no pace", "", "4 min", "3.99 min", "pace_minutes")
_REACH = Threshold(REACH, "", _AGREES, "no farther than", "", "500 g", "501 g", "needed", _POURED_JOB)
_FINEST = Threshold(0.001, "g", _FINEST_SCALE, "too little to weigh", "", "499.92 g", "499.921 g", "mixed")

_ONE_BY_ONE = (
    "pour hardener into the next pot only when the last one is empty: its time runs from the first drop; a leftover goes "
    "outdoors, flat, on bare ground, as it can smoke or burn (see the data sheet)"
)
"""Said with every plan: cups set out with hardener in them all go off together [common practice]."""

_FITS, _SMALLER, _SLOW, _UNKNOWN = "fits", "fits in smaller pots", "too slow for this pot life", "pace not given"
"""What is said of the pace: the pots by the largest mass are worked in time, only smaller ones are, none is, nobody knows."""

_HEATS = "a larger pot heats itself"
"""Why a pot above the data sheet's mass lasts less long."""

_COVERED = "enough is mixed"
"""Said in place of the pace where what was mixed already is all that is needed."""


@dataclass(frozen=True, slots=True)
class _Pace:
    """How long a pot takes: so many minutes before the first stroke, and so many a gram."""

    before: float
    per_gram: float

    def minutes(self, mass: float) -> float:
        """Return the minutes from first contact until a pot of that many g is empty."""
        return self.before + self.per_gram * mass

    def mass(self, minutes: float) -> float:
        """Return the g that are worked in that many minutes from first contact; not above 0 if none."""
        return (minutes - self.before) / self.per_gram


@dataclass(frozen=True, slots=True)
class _Plan:
    """Pots of one size, in g, and the last one, which takes what the rounding up to steps of the scale leaves."""

    pots: int
    each: float
    last: float


@dataclass(frozen=True, slots=True)
class _Job:
    """Mixed epoxy needed and mixed already, both in g, and the m² and the m of it, where they are known."""

    total: float
    done: float
    filler: float
    """g of filler to 1 g of mixed epoxy."""
    area: float | None
    length: float | None

    @property
    def rest(self) -> float:
        """What is still to mix, in g."""
        return self.total - self.done


@dataclass(frozen=True, slots=True)
class _Time:
    """Until when the mix of a pot has to be worked, and the share of that which a pot is planned into."""

    share: float
    use_by: float | None
    """The use-by in min that was given."""
    cup: Cup | None
    """What the line of a data sheet says; it takes the place of the use-by."""
    pouring: float
    film: float | None
    """Minutes that a film stays workable; None for pots worked from the cup."""

    def ends(self, mass: float) -> float | None:
        """Return the minutes from first contact after which a pot of that many g is no more to be worked."""
        if self.film is not None:
            return self.pouring + self.film
        return self.use_by if self.cup is None else self.cup.empty_by(mass)

    def planned(self, mass: float) -> float | None:
        """Return the minutes that a pot of that many g is planned into."""
        if self.film is not None:
            return self.pouring + self.share * self.film
        ends = self.ends(mass)
        return None if ends is None else self.share * ends

    def worked(self, pace: _Pace | None) -> float:
        """Return the g of a pot that is worked in time; infinite where nothing says, not above 0 where none is."""
        limits = list[float]()
        if self.cup is not None:
            before, per_gram = (0.0, 0.0) if pace is None else (pace.before, pace.per_gram)
            if self.film is not None:
                before, per_gram = self.pouring, 0.0
            found = self.cup.largest(before, per_gram, self.share)
            # As far as was looked is no limit of this pot: that mass is one for every pot.
            if found < self.cup.reach * (1 - NOISE):
                limits.append(found)
        if pace is not None and (self.cup is None or self.film is not None):
            planned = self.planned(0.0)
            limits += [] if planned is None else [pace.mass(planned)]
        return min(limits, default=math.inf)


def _plan(total: float, most: float, step: float) -> _Plan:
    """Return the fewest pots that hold at most `most` each, as even as the scale allows, all in g.

    The most is taken down to a step of the scale and the even share up to one, so the share is never over the most and
    something is always left for the last pot.
    """
    most = math.floor(most / step * (1 + NOISE)) * step
    pots = round_up(total / most)
    if pots == 1:
        return _Plan(1, total, total)
    each = round_up(total / pots / step) * step
    return _Plan(pots, each, total - (pots - 1) * each)


def _compute(
    *,
    needed: Quantity,
    loss: Quantity,
    filler_loading: Quantity,
    largest: Quantity | None,
    use_by: Quantity | None,
    in_hand: Quantity,
    pace_mass: Quantity | None,
    pace_minutes: Quantity | None,
    stir: Quantity,
    area: Quantity | None,
    area_an_hour: Quantity | None,
    length: Quantity | None,
    length_an_hour: Quantity | None,
    mixed: Quantity,
    next_pot: int,
    scale_step: Quantity,
    ratio: Ratio | None,
    resin_density: Quantity | None,
    hardener_density: Quantity | None,
    way: str,
    pouring: Quantity,
    thin_film: Quantity | None,
    **line: Value | None,
) -> Answer:
    paces = {"pace_mass": pace_mass, "area_an_hour": area_an_hour, "length_an_hour": length_an_hour}
    instant = _is_instant(pace_mass, pace_minutes, stir)
    has_pace = not instant and any(pace is not None for pace in (*paces.values(), pace_minutes))
    refuse(
        *_one_pace(paces, pace_minutes, area, length),
        *_line_problems(line, way, use_by),
        *(_limit_given(largest, use_by, has_pace) if line["sheet_time"] is None and way == _CUP else []),
        *mixing.density_problems(ratio, {"resin_density": resin_density, "hardener_density": hardener_density}),
    )
    step, spared = scale_step.value_in("g"), in_hand.value_in("%") / 100
    job, working = _job(needed, loss, filler_loading, mixed, area, length)
    per_resin, split = _hardener_per_resin(ratio, in_unit(resin_density, "g/mL"), in_unit(hardener_density, "g/mL"))
    if job.rest < job.total * NOISE:
        return _covered(job, next_pot, working)
    time = _time(1 - spared, use_by, _cup(line, job.filler), None if way == _CUP else pouring, thin_film)
    before = stir.value_in("min")
    pace, lines = (None if instant else _timed_pace(pace_mass, pace_minutes, before)) or _pace_of_work(
        job, in_unit(area_an_hour, "m²/h"), in_unit(length_an_hour, "m/h"), before if time.film is None else time.pouring
    )
    if pace is not None and time.film is not None:
        pace = replace(pace, before=time.pouring)
    working += lines
    top, worked = _top(largest, time), time.worked(pace)
    # A job smaller than the least pot is no reproach to the pace: it only has to be worked in time.
    least = min(_LEAST_POT.value, job.rest, top)
    if worked < least * (1 - NOISE):
        return _too_slow(pace, least, time, job, max(worked, 0.0), working)
    limit = min(top, worked)
    _refuse_coarse(limit, scale_step)
    plan = _plan(job.rest, limit, step)
    weighed = _weighed(plan, per_resin, step) if ratio is not None else {}
    # Beside a data sheet only what makes pots smaller is told: the rest is a large figure that no pot may have.
    told = worked if worked < (math.inf if time.cup is None else top) else None
    filled, times = _filled(plan, job.filler), _times(pace, plan, time)
    working += [
        *_planned_lines(pace, time, told, plan.each),
        *_cup_lines(time, plan, top),
        *_plan_lines(plan, job.rest, limit, scale_step, next_pot),
        *_time_lines(pace, plan, times),
        *_split_lines(plan, per_resin, weighed, split),
        *_filler_lines(plan, job, filled),
    ]
    return Answer(
        {
            **dict.fromkeys(output.name for output in _OUTPUTS),
            "pots": next_pot - 1 + plan.pots,
            "each": plan.each,
            "last": plan.last,
            **weighed,
            **filled,
            **times,
            **_of_the_work(job, pace, plan),
            "total": job.total,
            "rest": job.rest,
            "verdict": _verdict(pace, time, _plan(job.rest, top, step) if step <= top < math.inf else plan),
            "worked": told,
            "bound": None if time.cup is None else top,
            "planned": time.planned(plan.each) if pace is not None else None,
        },
        tuple(working),
        (
            *_cup_cautions(time, plan, top, job),
            *_film_cautions(time, thin_film),
            *(_instant_cautions(pace_minutes, stir) if instant else []),
            *_unknown_cautions(largest, time, pace, plan),
            *_far_cautions(None if instant else pace_mass, pace, plan),
            *_size_cautions(plan),
            *_rest_cautions(job),
            *(_scale_cautions(weighed, step) if weighed else []),
            _ONE_BY_ONE,
        ),
    )


def _cup(line: Mapping[str, Value | None], filler: float) -> Cup | None:
    """Return what the line of the data sheet says of a cup, with g of filler to 1 g of epoxy; None without a line.

    InputError where a second line does not go with the first.
    """
    if line["sheet_time"] is None:
        return None
    grams = number(line, "sheet_mass", "g")
    sheet = Sheet(number(line, "sheet_time", "min"), grams, number(line, "sheet_temperature", "°C"))
    second = None
    if line["sheet_time_2"] is not None:
        second = Sheet(number(line, "sheet_time_2", "min"), grams, number(line, "sheet_temperature_2", "°C"))
        refuse(*apart_problems(sheet, second))
    celsius, room = number(line, "temperature", "°C"), in_unit(size(line, "room"), "°C")
    return Cup(sheet, resin_of(sheet, second)[0], celsius, celsius if room is None else room, filler)


def _time(share: float, use_by: Quantity | None, cup: Cup | None, pouring: Quantity | None, thin_film: Quantity | None) -> _Time:
    """Return until when a pot is worked; `pouring` is None for pots worked from the cup."""
    film = None
    if pouring is not None and cup is not None:
        film = cup.film(cup.sheet.minutes if thin_film is None else thin_film.value_in("min"))
    return _Time(share, in_unit(use_by, "min"), cup, 0.0 if pouring is None else pouring.value_in("min"), film)


def _top(largest: Quantity | None, time: _Time) -> float:
    """Return the g that no pot holds more than, whatever the pace; infinite where nothing says.

    From the cup it is the mass that the pot life of the data sheet holds for, unless a larger one was asked for.
    """
    asked = math.inf if largest is None else largest.value_in("g")
    if time.cup is None:
        return asked
    return min(time.cup.tested if largest is None and time.film is None else asked, time.cup.reach)


def _job(
    needed: Quantity, loss: Quantity, loading: Quantity, mixed: Quantity, area: Quantity | None, length: Quantity | None
) -> tuple[_Job, list[str]]:
    """Return the job with its loss and without its filler, and its working."""
    net, extra, filler = needed.value_in("g"), loss.value_in("%"), loading.value_in("%") / 100
    job = _Job(net * (1 + extra / 100) / (1 + filler), mixed.value_in("g"), filler, in_unit(area, "m²"), in_unit(length, "m"))
    less = f" ÷ {sig(1 + filler)} (filler {sig(100 * filler)} % of the epoxy)" if filler else ""
    working = [f"to mix = {sig(net)} g × {sig(1 + extra / 100)} (loss {sig(extra)} %){less} = {sig(job.total)} g"]
    if job.done > 0:
        working.append(f"still to mix = {sig(job.total)} g − {sig(job.done)} g = {sig(job.rest)} g")
    return job, working


def _planned_lines(pace: _Pace | None, time: _Time, worked: float | None, mass: float) -> list[str]:
    """Return the working of the time that a pot of that many g is planned into, and of what is worked in it."""
    planned = time.planned(mass)
    if planned is None:
        return []
    kept = f"{sig(time.share)} ({sig(100 * (1 - time.share))} % in hand)"
    lines = []
    if time.film is not None:
        lines.append(f"planned within = {sig(time.pouring)} min + thin film {sig(time.film)} min × {kept} = {sig(planned)} min")
    elif pace is not None:
        lines.append(f"planned within = {'use-by' if time.cup is None else 'empty-by'} × {kept} = {sig(planned)} min")
    if pace is None or worked is None:
        return lines
    if time.cup is None:
        share = f"({sig(planned)} − {sig(pace.before)}) min / {sig(pace.per_gram, 3)} min/g"
        return [*lines, f"worked in time = {share} = {sig(max(worked, 0), 3)} g"]
    return [*lines, f"worked in time = the most that is out of the cup and spread within that = {sig(worked, 3)} g"]


def _cup_lines(time: _Time, plan: _Plan, top: float) -> list[str]:
    """Return the working of the largest cup that there may be, and of how long one of the plan lasts."""
    cup = time.cup
    if cup is None:
        return []
    less = f" / {sig(1 + cup.filler)} (its filler)" if cup.filler else ""
    lasting = f"to be empty by {_tenth_down(cup.empty_by(plan.each))} min, as in potlife"
    lasts = f"a cup with {sig(cup.holds(plan.each))} g in it is {lasting}"
    if top >= cup.reach * (1 - NOISE):
        return [f"no pot over {_REACH.value:g} × {sig(cup.sheet.mass)} g{less} = {sig(top)} g", lasts]
    return [f"no pot over the data sheet's {sig(cup.sheet.mass)} g{less} = {sig(top)} g", lasts] if top == cup.tested else [lasts]


def _tenth_down(minutes: float) -> float:
    """Return minutes rounded down to a tenth, once for figure, caution and log: keeping to them is enough."""
    return math.floor(minutes * 10 * (1 + NOISE)) / 10


def _refuse_coarse(limit: float, scale_step: Quantity) -> None:
    """Refuse a scale whose step is more than a pot may hold, in g."""
    if limit < scale_step.value_in("g") * (1 - NOISE):
        what = f"a pot of {sig(limit)} g is less than one step of the scale, {units.show(scale_step)}"
        refuse(FieldProblem("scale_step", what, "give the step of a finer scale, or allow a larger pot"))


def _time_lines(pace: _Pace | None, plan: _Plan, times: Mapping[str, float | None]) -> list[str]:
    minutes, left = times.get("minutes"), times.get("spare")
    if pace is None or minutes is None:
        return []
    spare = "" if left is None else f", {left:.1f} min before it must be used up"
    return [f"each takes {sig(pace.before)} + {sig(pace.per_gram, 3)} × {sig(plan.each)} = {minutes:.1f} min{spare}"]


def _split_lines(plan: _Plan, per_resin: float, weighed: dict[str, float], split: str) -> list[str]:
    if not weighed:
        return []
    return [split, f"resin of each = {sig(plan.each)} g / {sig(1 + per_resin)} = {sig(weighed['scale_resin'])} g"]


def _times(pace: _Pace | None, plan: _Plan, time: _Time) -> dict[str, float | None]:
    """Return how long the pots take and last, in min; nothing of what is not known."""
    found: dict[str, float | None] = {"film": time.film}
    ends = time.ends(plan.each)
    if time.cup is not None:
        found["empty_by"] = _tenth_down(time.cup.empty_by(plan.each))
        ends = found["empty_by"] if time.film is None else ends
    if pace is not None:
        minutes = pace.minutes(plan.each)
        found["minutes"], found["spare"] = minutes, None if ends is None else ends - minutes
        found["whole"] = (plan.pots - 1) * minutes + pace.minutes(plan.last)
    return found


def _of_the_work(job: _Job, pace: _Pace | None, plan: _Plan) -> dict[str, float | None]:
    """Return the m² and the m of a pot, and the pace in them; None where they are not known."""
    found: dict[str, float | None] = {}
    for name, whole in (("area", job.area), ("length", job.length)):
        if whole is not None:
            found[f"pot_{name}"] = whole * plan.each / job.total
            found[f"{name}_an_hour"] = None if pace is None else 60 * whole / (pace.per_gram * job.total)
    return found


def _plan_lines(plan: _Plan, rest: float, limit: float, scale_step: Quantity, next_pot: int) -> list[str]:
    """Return the working of how many pots of what size."""
    shared = f", up to a step of {units.show(scale_step)}, = {sig(plan.each)} g, the last {sig(plan.last)} g"
    counted = f"; with {next_pot - 1} before, {next_pot - 1 + plan.pots}"
    return [
        f"pots = {sig(rest)} g / {sig(limit)} g, up = {plan.pots}; each {sig(rest)} g / {plan.pots}"
        + (shared if plan.pots > 1 else "")
        + (counted if next_pot > 1 else "")
    ]


def _step_for(resin: float, hardener: float) -> float:
    """Return the step in g of a scale that is fine enough for so many g, however fine."""
    return mixing.scale_step(mixing.finest_needed(resin, hardener, _TOLERANCE.value))


def _weighed(plan: _Plan, per_resin: float, step: float) -> dict[str, float]:
    """Return the readings of the scale, and what its step does to the hardener of the last pot."""
    resin = plan.last / (1 + per_resin)
    hardener = plan.last - resin
    return {
        "scale_resin": plan.each / (1 + per_resin),
        "scale_hardener": plan.each,
        "last_scale_resin": resin,
        "last_scale_hardener": plan.last,
        "last_hardener": hardener,
        "scale_error": mixing.reading_error(resin, hardener, step),
        "step_enough": max(_step_for(resin, hardener), _FINEST.value),
    }


def _filled(plan: _Plan, filler: float) -> dict[str, float]:
    """Return the filler of each pot and what the scale reads with it, in g; nothing where there is none."""
    if not filler:
        return {}
    return {
        "filler": plan.each * filler,
        "scale_filler": plan.each * (1 + filler),
        "last_scale_filler": plan.last * (1 + filler),
    }


def _filler_lines(plan: _Plan, job: _Job, filled: dict[str, float]) -> list[str]:
    if not filled:
        return []
    return [
        f"filler of each = {sig(plan.each)} g × {sig(job.filler)} = {sig(filled['filler'])} g, so that the scale reads "
        f"{sig(filled['scale_filler'])} g"
    ]


def _timed_pace(mass: Quantity | None, minutes: Quantity | None, before: float) -> tuple[_Pace, list[str]] | None:
    """Return the pace of a pot that was timed, and its working; None where none was."""
    if mass is None or minutes is None:
        return None
    timed, taken = mass.value_in("g"), minutes.value_in("min")
    pace = _Pace(before, (taken - before) / timed)
    return pace, [
        f"pace = ({sig(taken)} − {sig(before)}) min / {sig(timed)} g = {sig(pace.per_gram, 3)} min/g after {sig(before)} min "
        "of pouring and stirring"
    ]


def _pace_of_work(
    job: _Job, area_an_hour: float | None, length_an_hour: float | None, before: float
) -> tuple[_Pace | None, list[str]]:
    """Return the pace of so many m² or m an hour, on which all of the mix is spread, and its working; None without one."""
    for whole, an_hour, unit in ((job.area, area_an_hour, "m²"), (job.length, length_an_hour, "m")):
        if whole is not None and an_hour is not None:
            pace = _Pace(before, 60 * whole / an_hour / job.total)
            return pace, [
                f"pace = 60 min/h × {sig(whole)} {unit} / ({sig(an_hour)} {unit}/h × {sig(job.total)} g) = "
                f"{sig(pace.per_gram, 3)} min/g after {sig(before)} min of pouring and stirring"
            ]
    return None, []


def _one_pace(
    paces: dict[str, Quantity | None], pace_minutes: Quantity | None, area: Quantity | None, length: Quantity | None
) -> list[FieldProblem]:
    """Return what is missing beside a pace, or which of several paces to leave empty."""
    given = [name for name, pace in paces.items() if pace is not None or (name == "pace_mass" and pace_minutes is not None)]
    if len(given) > 1:
        what = f"a pace is given by {' and by '.join(given)}"
        others = " and ".join("pace_mass, pace_minutes" if name == "pace_mass" else name for name in given[:-1])
        return [FieldProblem(given[-1], what, f"leave it empty, or leave {others} empty")]
    beside = (
        ("pace_mass", paces["pace_mass"], pace_minutes, "its minutes", "the g of that pot"),
        ("pace_minutes", pace_minutes, paces["pace_mass"], "its mass", "the minutes of that pot"),
        ("area", area, paces["area_an_hour"], "the area an hour", "the m² that the mix covers"),
        ("length", length, paces["length_an_hour"], "the length an hour", "the m the mix is for"),
    )
    return [
        FieldProblem(name, f"missing beside {what}", f"give {fix}, or leave both empty")
        for name, own, other, what, fix in beside
        if own is None and other is not None
    ]


def _limit_given(largest: Quantity | None, use_by: Quantity | None, has_pace: bool) -> list[FieldProblem]:
    if largest is None and (use_by is None or not has_pace):
        fix = "give the largest pot (the calculator potlife finds it), or the use-by with the mass and minutes of a pot of yours"
        return [FieldProblem("largest", "nothing says how large a pot may be", fix)]
    return []


def _line_problems(line: Mapping[str, Value | None], way: str, use_by: Quantity | None) -> list[FieldProblem]:
    """Return what is wrong with the line of the data sheet, or missing where a pot is poured out at once."""
    first = some(line, ("sheet_time", "sheet_mass", "sheet_temperature", "temperature"))
    fix = "give the data sheet's pot life with its mass and temperature, and how warm the mix is"
    if all(value is None for value in first.values()):
        problems = given(some(line, ("room", "sheet_time_2", "sheet_temperature_2")), "it belongs to a line of the sheet", fix)
        if way == _POURED:
            problems.append(FieldProblem("way", "how long such a pot stays cool follows from the data sheet alone", fix))
        return problems
    return [
        *together(first, "nothing given", fix),
        *together(
            some(line, ("sheet_time_2", "sheet_temperature_2")),
            "nothing given",
            "a second line of the sheet has both a time and a temperature",
        ),
        *given({"use_by": use_by}, "the line of the data sheet already gives it", "leave it empty"),
    ]


def _is_instant(mass: Quantity | None, minutes: Quantity | None, stir: Quantity) -> bool:
    """Return whether the timed pot was over too soon to have been worked."""
    if mass is None or minutes is None:
        return False
    return minutes.value_in("min") - stir.value_in("min") < _INSTANT.value * (1 - NOISE)


def _hardener_per_resin(ratio: Ratio | None, resin_density: float | None, hardener_density: float | None) -> tuple[float, str]:
    """Return g of hardener to 1 g of resin with its working; 0 and nothing where no ratio is given."""
    if ratio is None:
        return 0.0, ""
    by_weight, times = mixing.per_resin(ratio, resin_density, hardener_density), ""
    if ratio.basis == "volume" and resin_density is not None and hardener_density is not None:
        times = f" × {sig(hardener_density)}/{sig(resin_density)}"
    refuse(*mixing.ratio_problems(ratio, by_weight * 100))
    a, b = mixing.parts(ratio)
    return by_weight, f"hardener to 1 g of resin = {b}/{a}{times} = {sig(by_weight)} g"


def _covered(job: _Job, next_pot: int, working: list[str]) -> Answer:
    """Return that nothing is left to mix."""
    return Answer(
        {
            **dict.fromkeys(output.name for output in _OUTPUTS),
            "pots": next_pot - 1,
            "total": job.total,
            "rest": 0.0,
            "verdict": _COVERED,
        },
        tuple(working),
        (
            f"{sig(job.done)} g mixed is all of the {sig(job.total)} g needed: mix no more unless the work shows a dry place, "
            "and give what that takes as what is needed",
        ),
    )


def _too_slow(pace: _Pace | None, least: float, time: _Time, job: _Job, worked: float, working: list[str]) -> Answer:
    """Return that no pot worth mixing is worked in time, with the pot life that would be enough, a share of it in hand."""
    reason, enough = _slow_reason(pace, least, time)
    return Answer(
        {
            **dict.fromkeys(output.name for output in _OUTPUTS),
            "total": job.total,
            "rest": job.rest,
            "verdict": _SLOW,
            "worked": worked,
            "planned": time.planned(least),
            "film": time.film,
            "use_by_enough": None if enough is None else float(enough),
        },
        (*working, *_planned_lines(pace, time, worked, least)),
        (reason,),
        has_figure=False,
    )


def _slow_reason(pace: _Pace | None, least: float, time: _Time) -> tuple[str, int | None]:
    """Return why even the least pot is not worked in time, and the pot life that would be enough; None where none helps."""
    life, planned = "use-by" if time.cup is None else "pot life", sig(time.planned(least) or 0.0)
    kept = f"({sig(100 * (1 - time.share))} % of the {life} in hand)"
    remedy = "a slower hardener, resin and shop cooler within the limits of the data sheet, or a second pair of hands"
    if time.film is not None and time.cup is not None and time.share * time.cup.empty_by(least) < time.pouring:
        enough = round_up(time.pouring / time.share)
        late = f"a pot of {sig(least)} g is not sure to be out of its cup in {sig(time.pouring)} min {kept}"
        return f"even {late}: do not mix. It takes a {life} of {enough} min or more: {remedy}", enough
    if pace is None or time.film is not None:
        return (
            f"even {sig(least)} g take longer than the {planned} min planned to pour and spread: do not mix. It takes {remedy}",
            None,
        )
    enough = round_up(pace.minutes(least) / time.share)
    return (
        f"even a pot of {sig(least)} g takes longer than the {planned} min planned {kept}: do not mix. "
        f"It takes a {life} of {enough} min or more: {remedy}",
        enough,
    )


def _verdict(pace: _Pace | None, time: _Time, by_size: _Plan) -> str:
    """Return the verdict; `by_size` is the plan that the largest pot alone would make."""
    planned = time.planned(by_size.each)
    if pace is None or planned is None:
        return _UNKNOWN
    return _FITS if pace.minutes(by_size.each) <= planned * (1 + NOISE) else _SMALLER


def _cup_cautions(time: _Time, plan: _Plan, top: float, job: _Job) -> list[str]:
    """Return how long a cup of the plan lasts beside what the data sheet says, and what a larger one asks for."""
    cup = time.cup
    if cup is None:
        return []
    found = [*_above_the_sheet(time, cup, plan), *_other_than_the_sheet(cup, plan)]
    if job.rest > cup.reach * (1 + NOISE) and top >= cup.reach * (1 - NOISE):
        found.append(
            f"no pot goes over {sig(cup.reach)} g: one line of a data sheet vouches for a pot no farther than "
            f"{_REACH.value:g} times its mass"
        )
    return found


def _above_the_sheet(time: _Time, cup: Cup, plan: _Plan) -> list[str]:
    if plan.each <= cup.tested * (1 + NOISE):
        return []
    life = f"the {sig(cup.sheet.mass)} g that the data sheet's {sig(cup.sheet.minutes)} min hold for"
    held = f"{sig(cup.holds(plan.each))} g in a cup is more than {life}"
    by = f"{_tenth_down(cup.empty_by(plan.each))} min"
    if time.film is not None:
        return [
            f"{held}: it heats itself. Pour all of it out within {sig(time.pouring)} min of the first drop of hardener, and "
            f"never leave it in the cup: past {by} it can go off, smoke or burn"
        ]
    return [f"{held}: it heats itself, and only the model says that the cup lasts to {by}. Smaller pots are surer"]


def _other_than_the_sheet(cup: Cup, plan: _Plan) -> list[str]:
    """Return why a cup of the plan lasts longer or shorter than the data sheet says."""
    by, sheet = _tenth_down(cup.empty_by(plan.each)), cup.sheet
    if by == _tenth_down(sheet.minutes):
        return []
    told = f"the data sheet's {sig(sheet.minutes)} min are for {sig(sheet.mass)} g at {sig(sheet.celsius)} °C; yours is"
    yours = f"{sig(cup.holds(plan.each))} g at {sig(cup.celsius)} °C"
    if by > sheet.minutes:
        return [f"{told} {yours}: cooler resin goes off later, so the clock runs to {by} min. A smaller pot adds nothing to it"]
    why = [
        *(["warmer resin goes off sooner"] if max(cup.celsius, cup.room) > sheet.celsius else []),
        *([_HEATS] if plan.each > cup.tested * (1 + NOISE) else []),
    ]
    if why == [_HEATS]:  # said with what such a pot asks for
        return []
    reason = " and ".join(why) or f"its middle passes {WARM:g} °C before it sets"
    return [f"{told} {yours}: {reason}, so the clock runs to {by} min only"]


def _film_cautions(time: _Time, thin_film: Quantity | None) -> list[str]:
    """Return what is taken for the thin film where the data sheet says nothing, or says it of cooler work."""
    if time.film is None or time.cup is None:
        return []
    told = time.cup.sheet.minutes if thin_film is None else thin_film.value_in("min")
    found = []
    if thin_film is None:
        found.append(
            f"no thin-film time given: the pot life of {sig(told)} min is taken for it, the short side. Look for a thin-film, "
            "working or open time in the data sheet"
        )
    if time.film < told * (1 - NOISE):
        found.append(
            f"the {sig(told)} min of the film are for {sig(time.cup.sheet.celsius)} °C: in the warmer, count on "
            f"{_tenth_down(time.film)} min"
        )
    return found


def _instant_cautions(minutes: Quantity | None, stir: Quantity) -> list[str]:
    if minutes is None:
        return []
    return [
        f"a pot over in {units.show(minutes)}, {units.show(stir)} of it before spreading, is no pace: it was ticked off, not "
        "worked, and nothing is planned by it. Time the next one from the first drop of hardener until the cup is empty"
    ]


def _unknown_cautions(largest: Quantity | None, time: _Time, pace: _Pace | None, plan: _Plan) -> list[str]:
    lasts = time.ends(plan.each)
    if pace is None or lasts is None:
        wanted = "its mass, its minutes and the use-by" if time.cup is None else "its mass and its minutes"
        return [
            "nothing was said of your pace against the pot life: time the first pot from the first drop of hardener until "
            f"the cup is empty, and give {wanted}"
        ]
    if largest is None and time.cup is None:
        return [
            f"the use-by of {sig(lasts)} min must hold for a pot of {sig(plan.each)} g: give the largest pot too, which the "
            "calculator potlife finds for that time"
        ]
    return []


def _far_cautions(pace_mass: Quantity | None, pace: _Pace | None, plan: _Plan) -> list[str]:
    if pace_mass is None or pace is None:
        return []
    timed = pace_mass.value_in("g")
    if timed / _FAR.value <= plan.each <= timed * _FAR.value:
        return []
    return [
        f"your pace is from a pot of {sig(timed)} g, these hold {sig(plan.each)} g: time the first one and plan the rest "
        "with its mass and minutes"
    ]


def _size_cautions(plan: _Plan) -> list[str]:
    if plan.each <= _BIG_POT.value:
        return []
    return [
        f"{plan.each:.0f} g in one pot warms itself, may smoke and goes off early (common practice): take {_BIG_POT.value:g} g "
        "as the largest pot, or pour it into a flat tray at once; see potlife"
    ]


def _rest_cautions(job: _Job) -> list[str]:
    if job.done == 0 or job.rest >= _LEAST_POT.value:
        return []
    return [
        f"only {sig(job.rest)} g are left to mix, hardly more than cup and brush keep: look first whether the work needs them"
    ]


def _scale_cautions(weighed: Mapping[str, float], step: float) -> list[str]:
    """Return the caution of a scale too coarse for the last pot."""
    hardener, error = weighed["last_hardener"], weighed["scale_error"]
    if error <= _TOLERANCE.value:
        return []
    finest = _step_for(weighed["last_scale_resin"], hardener)
    if finest < _FINEST.value:
        return [f"{sig(hardener, 2)} g of hardener is too little to weigh: mix more and throw the rest away"]
    return [
        f"a scale step of {sig(step)} g can put the ratio {error:.0f} % off with {sig(hardener, 3)} g of hardener, more than "
        f"the usual {_TOLERANCE.value:g} %: weigh on a scale with a step of {sig(finest)} g or finer"
    ]


_MASS = Measure("g", low=1, high=50_000, soft_low=20, soft_high=10_000)
"""What a job may take."""

_POT = Measure("g", low=1, high=5000, soft_low=20, soft_high=500)
"""What one pot holds."""

_OUTPUTS = (
    Output("pots", "Pots", "", 0),
    Output("each", "Each pot to come", "g"),
    Output("last", "Last pot", "g"),
    Output("scale_resin", "Each: resin to", "g"),
    Output("scale_hardener", "Each: hardener to", "g"),
    Output("last_scale_resin", "Last: resin to", "g"),
    Output("last_scale_hardener", "Last: hardener to", "g"),
    Output("filler", "Each: filler", "g"),
    Output("scale_filler", "Each: filler to", "g"),
    Output("last_scale_filler", "Last: filler to", "g"),
    Output("minutes", "Each pot takes", "min"),
    Output("empty_by", "Each cup empty by", "min"),
    Output("film", "Thin film stays workable", "min"),
    Output("spare", "To spare in each", "min"),
    Output("whole", "Pots to come take", "min", 0),
    Output("total", "Total to mix", "g"),
    Output("rest", "Still to mix", "g"),
    Output("pot_area", "Each pot covers", "m²", 2),
    Output("pot_length", "Each pot does", "m", 2),
    Output("area_an_hour", "Pace in area", "m²/h", 2),
    Output("length_an_hour", "Pace in length", "m/h", 2),
    Output("verdict", "Your pace"),
    Output("worked", "Largest worked in time", "g"),
    Output("planned", "Planned within", "min"),
    Output("use_by_enough", "Use-by that is enough", "min", 0),
    Output("last_hardener", "Hardener of the last pot", "g"),
    Output("scale_error", "Off by the scale's step, ±", "%"),
    Output("bound", "No pot over", "g"),
    Output("step_enough", "Scale step that is fine enough", "g", 2),
)
"""In the order of importance."""

CALCULATOR = Calculator(
    name="pots", title="A job split into pots",
    inputs=(
        Field("needed", "Mix needed on the work", _MASS,
            "From laminate, fillet or bead. With its filler, where you enter a loading.", required=True),
        Field("loss", "Loss in cup and tools", Measure("%", low=0, high=100, soft_high=40),
            "Added on top; 0 where it is in what is needed already. Commonly 10 to 15 %, in pots under 100 g 20 %.",
            default="0 %"),
        Field("filler_loading", "Filler, % of the mixed epoxy by weight", Measure("%", low=0, high=300, soft_high=60),
            "Filler that the mix needed contains: it is not mixed, so it comes off.", default="0 %"),
        Field("largest", "Largest pot", _POT, "Potlife finds it for a time needed."),
        Field("use_by", "Use by", Measure("min", low=1, high=1000, soft_high=240),
            "Time a pot of the largest size lasts, from the first drop of hardener."),
        Field("in_hand", "Pot life kept in hand", Measure("%", low=0, high=50, soft_low=10),
            "Share of the use-by that no pot is planned into. Half of it for paste in a bag.", default=_IN_HAND),
        Field("pace_mass", "Your pace: a pot of", _POT, "One that you worked and timed."),
        Field("pace_minutes", "Your pace: empty after", Measure("min", low=0.5, high=1000, soft_low=4, soft_high=120),
            "From the first drop of hardener until the cup is empty and the epoxy lies."),
        Field("stir", "Of that: before spreading", Measure("min", low=0, high=60, soft_low=2, soft_high=10),
            "Pouring and stirring, the same for a small pot and a large one.", default=f"{STIR:g} min"),
        Field("area", "Area the mix covers", Measure("m²", low=0.001, high=1000, soft_high=50), "All of it."),
        Field("area_an_hour", "Your pace: area an hour", Measure("m²/h", low=0.01, high=100, soft_low=0.3, soft_high=20),
            "Spreading alone, pouring and stirring not counted; in place of a timed pot."),
        Field("length", "Length the mix is for", Measure("m", low=0.01, high=1000, soft_high=100),
            "Of fillet or bead, all of it."),
        Field("length_an_hour", "Your pace: length an hour", Measure("m/h", low=0.01, high=1000, soft_low=0.5, soft_high=100),
            "Laying and forming alone, pouring and stirring not counted; in place of a timed pot."),
        Field("mixed", "Mixed in earlier pots", Measure("g", low=0, high=100_000),
            "To plan the rest anew midway: what the pots so far held, resin with hardener.", default="0 g"),
        Field("next_pot", "Number of the next pot", Count(1, 9999), "1 before the first; counted on from there.", default="1"),
        Field("scale_step", "Step of the scale", Measure("g", low=0.001, high=10, soft_high=5),
            "Pots are rounded up to it; the last one takes what is left.", default="1 g"),
        Field("ratio", "Mix ratio, resin first", RatioKind(), "For the readings of the scale."),
        Field("resin_density", "Density of the resin", mixing.RESIN_DENSITY,
            "From the data sheet; needed for a ratio by volume."),
        Field("hardener_density", "Density of the hardener", mixing.HARDENER_DENSITY,
            "From the data sheet; needed for a ratio by volume."),
        Field("way", "How a pot is used", Choice((_CUP, _POURED)),
            "At once: all of it on a flat face or in a tray as soon as it is stirred, then spread. By the data sheet only.",
            default=_CUP),
        Field("sheet_time", "Data sheet: pot life", Measure("min", low=3, high=600, soft_low=5, soft_high=240),
            "With the next three, in place of the use-by: how long a pot lasts then follows from its size, as in potlife."),
        Field("sheet_mass", "Data sheet: for a mass of", Measure("g", low=10, high=5000, soft_low=50, soft_high=500),
            "No pot from the cup is larger, filler with it, unless you give a largest pot."),
        Field("sheet_temperature", "Data sheet: at", Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=18, soft_high=30)),
        Field("temperature", "Temperature of the mix", Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=15, soft_high=35),
            "Of resin and hardener as poured, warmed or not."),
        Field("room", "Temperature of the room", Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=15, soft_high=35),
            "Left empty: as the mix."),
        Field("sheet_time_2", "Data sheet, second: pot life", Measure("min", low=3, high=600, soft_low=5, soft_high=240),
            "For the same mass at another temperature: how the cure goes with warmth."),
        Field("sheet_temperature_2", "Data sheet, second: at", Measure("°C", low=5, high=45, soft_low=12, soft_high=40)),
        Field("thin_film", "Data sheet: thin-film time", Measure("min", above=0, high=1440, soft_low=10, soft_high=480),
            "Of a pot poured out at once. Where the sheet has none its working or open time; left empty: the pot life."),
        Field("pouring", "Poured: cup empty after", Measure("min", low=1, high=60, soft_low=3, soft_high=10),
            "From the first drop of hardener: stirring and pouring.", default=_POURING),
    ),
    outputs=_OUTPUTS,
    source=(
        Source("fewest pots under the limit, then even shares; time = stirring + minutes a gram × grams: arithmetic", "computed"),
        _HABIT,
        Source("min/g = 60 × area / (area an hour × g to mix), the same for a length: arithmetic", "computed"),
        Source("a pot by the data sheet: the heat balance of potlife, empty by its use-by or by 50 °C", "computed"),
        _IN_AN_INSTANT,
        Source("5 min to stir and pour; a film outlasts the cup, so its time is the data sheet's own", "common practice"),
        Source("pot life counts from mixing and holds for a stated mass: scope of ASTM D2471", "read"),
    ),
    valid="Pots of one two-part epoxy worked one after the other by one person, all of one size. The time of a pot is taken as "
    "stirring plus a constant pace, from one pot of your own or from the area or length you do in an hour of spreading, the "
    "mix lying evenly on it; a pot of another kind of work has another pace. Midway the count is that of the whole job, all "
    "else that of the pots to come. The scale is zeroed with the empty cup on it. The use-by must hold for pots of the "
    "largest size; a pot never takes the last 15 % of it unless you say so. By the data sheet: mix and room at 12 to 40 °C, cups "
    "as high as wide; the time a pot lasts is that of potlife, a model; the film's is the data sheet's, shorter in the warm.",
    examples=(
        Example({"needed": "500 g", "largest": "120 g", "use_by": "25 min", "pace_mass": "80 g", "pace_minutes": "15 min",
            "ratio": "100:45 by weight"}, {"pots": 5, "each": 100, "last": 100, "minutes": 18, "spare": 7, "whole": 90,
            "scale_resin": 68.96552, "scale_hardener": 100, "last_scale_hardener": 100, "last_hardener": 31.03448,
            "scale_error": 3.976049, "step_enough": 1, "verdict": "fits"},
            Source("500/120 up is 5; 100 g at 12 min for 80 g is 15 min, with stirring 18; 100/1.45; "
                "32.03 g on 68.47 g in place of 31.03 on 68.97: arithmetic", "computed")),
        Example({"needed": "400 g", "largest": "200 g", "use_by": "20 min", "pace_mass": "60 g", "pace_minutes": "13 min",
            "stir": "3 min"}, {"pots": 5, "each": 80, "last": 80, "minutes": 16.33333, "verdict": "fits in smaller pots"},
            Source("17 of 20 min, 14 at 6 g a minute is 84 g, less than the 200 g allowed; 400/84 up is 5: arithmetic",
            "computed")),
        Example({"needed": "250 g", "loss": "10 %", "largest": "100 g", "ratio": "2:1 by volume", "resin_density": "1.15",
            "hardener_density": "0.97"}, {"total": 275, "pots": 3, "each": 92, "last": 91, "scale_resin": 64.70948,
            "last_scale_resin": 64.00612, "verdict": "pace not given"},
            Source("275/3 = 91.67, up to 92; of 3.27 g mix 2.30 g are resin: arithmetic", "computed")),
        Example({"needed": "600 g", "largest": "150 g", "use_by": "30 min", "area": "1.5 m²", "area_an_hour": "1 m²/h"},
            {"pots": 4, "each": 150, "minutes": 25.5, "spare": 4.5, "pot_area": 0.375, "area_an_hour": 1, "verdict": "fits"},
            Source("150 of 600 g cover 0.375 m², at 1 m² an hour 22.5 min, with stirring 25.5: arithmetic", "computed")),
        Example({"needed": "200 g", "largest": "100 g", "use_by": "25 min", "pace_mass": "50 g", "pace_minutes": "23 min",
            "length": "8 m", "mixed": "50 g", "next_pot": "2", "in_hand": "0 %"}, {"pots": 4, "rest": 150, "each": 50, "last": 50,
            "minutes": 23, "pot_length": 2, "length_an_hour": 6},
            Source("22 min at 2.5 g a minute is 55 g; 150/55 up is 3 more; 50 of 200 g are 2 of 8 m in 20 min: arithmetic",
            "computed")),
        Example({"needed": "100 g", "largest": "60 g", "mixed": "110 g", "next_pot": "3"}, {"pots": 2, "rest": 0,
            "verdict": "enough is mixed"}, Source("110 g are more than 100 g: arithmetic", "computed")),
        Example({"needed": "500 g", "use_by": "25 min", "pace_mass": "80 g", "pace_minutes": "15 min"}, {"planned": 21.25,
            "worked": 121.6667, "pots": 5}, Source("85 % of 25 min; 18.25 min at 0.15 min a gram: arithmetic", "computed")),
        Example({"needed": "350 g", "filler_loading": "40 %", "largest": "125 g"}, {"total": 250, "pots": 2, "each": 125,
            "filler": 50, "scale_filler": 175, "last_scale_filler": 175},
            Source("250 g of epoxy and 100 g of filler are 350 g: arithmetic", "computed")),
        Example({"needed": "357 g", "way": "poured out at once", "sheet_time": "20 min", "sheet_mass": "100 g",
            "sheet_temperature": "25 °C", "temperature": "25 °C", "thin_film": "50 min", "area": "2.9768 m²",
            "area_an_hour": "6 m²/h"}, {"pots": 1, "each": 357, "film": 50, "minutes": 34.768, "spare": 20.232},
            Source("2.9768 m² at 6 m²/h are 29.768 min, 5 to stir and pour: arithmetic", "computed")),
        Example({"needed": "357 g", "sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C",
            "temperature": "25 °C", "area": "2.9768 m²", "area_an_hour": "20 m²/h"}, {"pots": 4, "each": 90, "last": 87},
            Source("357/100 up is 4, 89.25 up to a gram: arithmetic", "computed")),
    ),
    asked=("needed", "pace_mass", "pace_minutes"),
    stock=Stock("resin", mixing.FIGURES | POT_LIFE_FIGURES | {"thin_film": "thin_film"}),
    readings={"temperature": ("bottles", "air"), "room": ("air",)},
    compute=_compute, thresholds=(_LEAST_POT, _BIG_POT, _TOLERANCE, _FAR, _INSTANT, _REACH, _FINEST),
)  # fmt: skip
