"""Split a job, or the rest of it, into pots: how many, what size, the scale readings, and whether you can spread each in time."""

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
"""How a pot is used: straight from its cup, or all poured onto the face or into a tray as soon as it is stirred."""

_POURING = "5 min"
"""Stirring and pouring time for a pot that goes onto a flat face, from the first drop of hardener [common practice]."""

_IN_HAND = "15 %"
"""Share of the pot life kept as a margin, because no two pots go off at quite the same time [common practice]."""

_HABIT = Source(
    "3 min to pour and stir, 15 % pot-life margin, ±5 % on the hardener, 500 g is a big pot, 10 g the smallest worth mixing",
    "common practice",
)
_GUESS = Source(
    "a pace timed on one pot is no guide to a pot over three times larger or smaller (our estimate)", "common practice"
)
_IN_AN_INSTANT = Source(
    "less than a minute of spreading means the pot was marked done but not used (our estimate)", "common practice"
)
_AGREES = Source(
    "up to 5 times the data-sheet mass, the calculated time is off by 9 % or less if the data-sheet pot life ends before gel",
    "computed",
)
_FINEST_SCALE = Source("the finest bench scales read to a milligram", "common practice")

_NO_PACE = {"use_by": "", "pace_mass": "", "pace_minutes": ""}
_ONE_POT = {"needed": "100 g", "use_by": "100 min"}
"""Inputs added to the first worked example so that it reaches the limits below (our choice)."""

_POURED_JOB = {
    **_NO_PACE,
    "largest": "",
    "way": _POURED,
    "sheet_time": "20 min",
    "sheet_mass": "100 g",
    "sheet_temperature": "25 °C",
    "temperature": "25 °C",
}
"""Data-sheet inputs for a pot poured out at once, added to the first worked example (our choice)."""

_LEAST_POT = Threshold(10.0, "g", _HABIT, "about what stays in the cup and brush", "rest", "490 g", "490.05 g", "mixed")
_BIG_POT = Threshold(
    BIG_POT, "g", BIG_POT_SOURCE, "in one pot heats up", "each", "500 g", "501 g", "needed", {**_NO_PACE, "largest": "600 g"}
)
_TOLERANCE = Threshold(
    mixing.USUAL_TOLERANCE, "%", _HABIT, "more than the usual 5 %", "scale_error", "1.255 g", "1.256 g", "scale_step", _ONE_POT
)
_FAR = Threshold(3.0, "", _GUESS, "you timed a pot of", "", "33.4 g", "33.3 g", "pace_mass", _ONE_POT)
_INSTANT = Threshold(INSTANT, "min", _IN_AN_INSTANT, "is too quick to be a real pace", "", "4 min", "3.99 min", "pace_minutes")
_REACH = Threshold(REACH, "", _AGREES, "trusted only up to", "", "500 g", "501 g", "needed", _POURED_JOB)
_FINEST = Threshold(0.001, "g", _FINEST_SCALE, "too little to weigh", "", "499.92 g", "499.921 g", "mixed")

_ONE_BY_ONE = (
    "don't add hardener to the next pot until the one before is empty: the clock starts at the first drop. Spread leftover "
    "mix flat outdoors on bare ground: left in a cup it can smoke or burn (see the data sheet)"
)
"""Shown with every plan: cups that all have hardener in them go off together [common practice]."""

_FITS, _SMALLER, _SLOW, _UNKNOWN = "fits", "fits in smaller pots", "too slow for this pot life", "pace not given"
"""Verdicts on the pace: the largest pots can be spread in time, only smaller ones can, none can, or no pace was entered."""

_HEATS = "a larger pot heats up more"
"""Why a pot bigger than the data-sheet mass goes off sooner."""

_COVERED = "enough is mixed"
"""The verdict when enough has been mixed already."""


@dataclass(frozen=True, slots=True)
class _Pace:
    """How long a pot takes: minutes before spreading starts, plus minutes per gram."""

    before: float
    per_gram: float

    def minutes(self, mass: float) -> float:
        """Return the minutes from the first drop of hardener until a pot of `mass` g is empty."""
        return self.before + self.per_gram * mass

    def mass(self, minutes: float) -> float:
        """Return how many g can be spread in `minutes` from the first drop of hardener; 0 or less if none."""
        return (minutes - self.before) / self.per_gram


@dataclass(frozen=True, slots=True)
class _Plan:
    """Pots of one size, in g, and the last one, which is smaller where the others were rounded up to the scale's step."""

    pots: int
    each: float
    last: float


@dataclass(frozen=True, slots=True)
class _Job:
    """Mixed epoxy needed and already mixed, both in g, and the area in m² and length in m it is for, where known."""

    total: float
    done: float
    filler: float
    """g of filler per 1 g of mixed epoxy."""
    area: float | None
    length: float | None

    @property
    def rest(self) -> float:
        """Epoxy still to mix, in g."""
        return self.total - self.done


@dataclass(frozen=True, slots=True)
class _Time:
    """The time limit for using a pot, and the share of that time that is planned for."""

    share: float
    use_by: float | None
    """The use-by time entered, in min."""
    cup: Cup | None
    """The pot life from the data sheet; it replaces the use-by time."""
    pouring: float
    film: float | None
    """Minutes a thin film stays workable; None for pots used from the cup."""

    def ends(self, mass: float) -> float | None:
        """Return the minutes from the first drop of hardener until a pot of `mass` g must be used up."""
        if self.film is not None:
            return self.pouring + self.film
        return self.use_by if self.cup is None else self.cup.empty_by(mass)

    def planned(self, mass: float) -> float | None:
        """Return the minutes planned for a pot of `mass` g: its time limit less the margin."""
        if self.film is not None:
            return self.pouring + self.share * self.film
        ends = self.ends(mass)
        return None if ends is None else self.share * ends

    def worked(self, pace: _Pace | None) -> float:
        """Return the largest pot in g that can be spread in time; infinite if no pace or time is known, 0 or less if none can."""
        limits = list[float]()
        if self.cup is not None:
            before, per_gram = (0.0, 0.0) if pace is None else (pace.before, pace.per_gram)
            if self.film is not None:
                before, per_gram = self.pouring, 0.0
            found = self.cup.largest(before, per_gram, self.share)
            # The end of the search is not a limit of this pot: it is the same for every pot.
            if found < self.cup.reach * (1 - NOISE):
                limits.append(found)
        if pace is not None and (self.cup is None or self.film is not None):
            planned = self.planned(0.0)
            limits += [] if planned is None else [pace.mass(planned)]
        return min(limits, default=math.inf)


def _plan(total: float, most: float, step: float) -> _Plan:
    """Return the smallest number of pots of up to `most` g each, as equal as the scale allows.

    `most` is rounded down to a step of the scale and the equal share up to one, so the share never exceeds `most` and
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
    # A job smaller than the smallest pot says nothing about the pace: it only has to be spread in time.
    least = min(_LEAST_POT.value, job.rest, top)
    if worked < least * (1 - NOISE):
        return _too_slow(pace, least, time, job, max(worked, 0.0), working)
    limit = min(top, worked)
    _refuse_coarse(limit, scale_step)
    plan = _plan(job.rest, limit, step)
    weighed = _weighed(plan, per_resin, step) if ratio is not None else {}
    # With a data sheet, show this only if it makes pots smaller; otherwise it is bigger than any pot allowed.
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
    """Return the data-sheet pot life for a cup, with g of filler per 1 g of epoxy; None if no data-sheet figures were entered.

    InputError if the second data-sheet line contradicts the first.
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
    """Return the time limit for using a pot; `pouring` is None for pots used from the cup."""
    film = None
    if pouring is not None and cup is not None:
        film = cup.film(cup.sheet.minutes if thin_film is None else thin_film.value_in("min"))
    return _Time(share, in_unit(use_by, "min"), cup, 0.0 if pouring is None else pouring.value_in("min"), film)


def _top(largest: Quantity | None, time: _Time) -> float:
    """Return the largest pot allowed, in g, whatever the pace; infinite if nothing limits it.

    From the cup it is the data-sheet test mass, unless a larger pot was entered.
    """
    asked = math.inf if largest is None else largest.value_in("g")
    if time.cup is None:
        return asked
    return min(time.cup.tested if largest is None and time.film is None else asked, time.cup.reach)


def _job(
    needed: Quantity, loss: Quantity, loading: Quantity, mixed: Quantity, area: Quantity | None, length: Quantity | None
) -> tuple[_Job, list[str]]:
    """Return the job with waste added and filler subtracted, and the working."""
    net, extra, filler = needed.value_in("g"), loss.value_in("%"), loading.value_in("%") / 100
    job = _Job(net * (1 + extra / 100) / (1 + filler), mixed.value_in("g"), filler, in_unit(area, "m²"), in_unit(length, "m"))
    less = f" ÷ {sig(1 + filler)} (filler {sig(100 * filler)} % of the epoxy)" if filler else ""
    working = [f"to mix = {sig(net)} g × {sig(1 + extra / 100)} (waste {sig(extra)} %){less} = {sig(job.total)} g"]
    if job.done > 0:
        working.append(f"still to mix = {sig(job.total)} g − {sig(job.done)} g = {sig(job.rest)} g")
    return job, working


def _planned_lines(pace: _Pace | None, time: _Time, worked: float | None, mass: float) -> list[str]:
    """Return the working for the planned time of a pot, and for how much can be spread in it."""
    planned = time.planned(mass)
    if planned is None:
        return []
    kept = f"{sig(time.share)} ({sig(100 * (1 - time.share))} % margin)"
    lines = []
    if time.film is not None:
        lines.append(f"planned time = {sig(time.pouring)} min + thin film {sig(time.film)} min × {kept} = {sig(planned)} min")
    elif pace is not None:
        lines.append(f"planned time = {'use-by' if time.cup is None else 'empty-by'} time × {kept} = {sig(planned)} min")
    if pace is None or worked is None:
        return lines
    if time.cup is None:
        share = f"({sig(planned)} − {sig(pace.before)}) min / {sig(pace.per_gram, 3)} min/g"
        return [*lines, f"largest pot you can spread in time = {share} = {sig(max(worked, 0), 3)} g"]
    return [*lines, f"largest pot you can pour and spread in that time = {sig(worked, 3)} g"]


def _cup_lines(time: _Time, plan: _Plan, top: float) -> list[str]:
    """Return the working for the largest cup allowed, and for how long a cup of the planned size lasts."""
    cup = time.cup
    if cup is None:
        return []
    less = f" / {sig(1 + cup.filler)} (filler included)" if cup.filler else ""
    lasting = f"good for {_tenth_down(cup.empty_by(plan.each))} min, worked out as in the potlife calculator"
    lasts = f"a cup with {sig(cup.holds(plan.each))} g in it is {lasting}"
    if top >= cup.reach * (1 - NOISE):
        return [f"largest pot = {_REACH.value:g} × {sig(cup.sheet.mass)} g{less} = {sig(top)} g", lasts]
    return [f"largest pot = data-sheet {sig(cup.sheet.mass)} g{less} = {sig(top)} g", lasts] if top == cup.tested else [lasts]


def _tenth_down(minutes: float) -> float:
    """Return minutes rounded down to a tenth, so that the figure, caution and log agree and err on the safe side."""
    return math.floor(minutes * 10 * (1 + NOISE)) / 10


def _refuse_coarse(limit: float, scale_step: Quantity) -> None:
    """Raise InputError if the scale's step in g is bigger than the largest pot."""
    if limit < scale_step.value_in("g") * (1 - NOISE):
        what = f"a pot of {sig(limit)} g is less than one step of the scale, {units.show(scale_step)}"
        refuse(FieldProblem("scale_step", what, "use a finer scale, or allow a larger pot"))


def _time_lines(pace: _Pace | None, plan: _Plan, times: Mapping[str, float | None]) -> list[str]:
    minutes, left = times.get("minutes"), times.get("spare")
    if pace is None or minutes is None:
        return []
    spare = "" if left is None else f", which leaves {left:.1f} min to spare"
    return [
        f"each pot takes {sig(pace.before)} min + {sig(pace.per_gram, 3)} min/g × {sig(plan.each)} g = {minutes:.1f} min{spare}"
    ]


def _split_lines(plan: _Plan, per_resin: float, weighed: dict[str, float], split: str) -> list[str]:
    if not weighed:
        return []
    return [split, f"resin per pot = {sig(plan.each)} g / {sig(1 + per_resin)} = {sig(weighed['scale_resin'])} g"]


def _times(pace: _Pace | None, plan: _Plan, time: _Time) -> dict[str, float | None]:
    """Return how long the pots take and last, in min, leaving out what is not known."""
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
    """Return the area in m² and length in m per pot, and the pace in each; None where not known."""
    found: dict[str, float | None] = {}
    for name, whole in (("area", job.area), ("length", job.length)):
        if whole is not None:
            found[f"pot_{name}"] = whole * plan.each / job.total
            found[f"{name}_an_hour"] = None if pace is None else 60 * whole / (pace.per_gram * job.total)
    return found


def _plan_lines(plan: _Plan, rest: float, limit: float, scale_step: Quantity, next_pot: int) -> list[str]:
    """Return the working for the number and size of pots."""
    shared = f", rounded up to the {units.show(scale_step)} scale step = {sig(plan.each)} g, the last one {sig(plan.last)} g"
    counted = f"; {plan.pots} + {next_pot - 1} already mixed = {next_pot - 1 + plan.pots}"
    return [
        f"pots = {sig(rest)} g / {sig(limit)} g, rounded up = {plan.pots}; each {sig(rest)} g / {plan.pots}"
        + (shared if plan.pots > 1 else "")
        + (counted if next_pot > 1 else "")
    ]


def _step_for(resin: float, hardener: float) -> float:
    """Return the coarsest scale step in g that weighs these amounts of resin and hardener within tolerance."""
    return mixing.scale_step(mixing.finest_needed(resin, hardener, _TOLERANCE.value))


def _weighed(plan: _Plan, per_resin: float, step: float) -> dict[str, float]:
    """Return the scale readings, and the error in % that the scale's step can cause in the last pot's ratio."""
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
    """Return the filler per pot and the scale reading with it, both in g; empty if there is no filler."""
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
        f"filler per pot = {sig(plan.each)} g × {sig(job.filler)} = {sig(filled['filler'])} g: add filler until the scale reads "
        f"{sig(filled['scale_filler'])} g"
    ]


def _timed_pace(mass: Quantity | None, minutes: Quantity | None, before: float) -> tuple[_Pace, list[str]] | None:
    """Return the pace from a timed pot, and its working; None if no pot was timed."""
    if mass is None or minutes is None:
        return None
    timed, taken = mass.value_in("g"), minutes.value_in("min")
    pace = _Pace(before, (taken - before) / timed)
    return pace, [
        f"pace = ({sig(taken)} − {sig(before)}) min / {sig(timed)} g = {sig(pace.per_gram, 3)} min/g, after {sig(before)} min "
        "to pour and stir"
    ]


def _pace_of_work(
    job: _Job, area_an_hour: float | None, length_an_hour: float | None, before: float
) -> tuple[_Pace | None, list[str]]:
    """Return the pace from the m² or m spread per hour, and its working; None if no such pace was entered."""
    for whole, an_hour, unit in ((job.area, area_an_hour, "m²"), (job.length, length_an_hour, "m")):
        if whole is not None and an_hour is not None:
            pace = _Pace(before, 60 * whole / an_hour / job.total)
            return pace, [
                f"pace = 60 min/h × {sig(whole)} {unit} / ({sig(an_hour)} {unit}/h × {sig(job.total)} g) = "
                f"{sig(pace.per_gram, 3)} min/g, after {sig(before)} min to pour and stir"
            ]
    return None, []


_PACE_WORDS = {
    "pace_mass": "the grams and minutes of a pot you timed",
    "area_an_hour": "the area per hour",
    "length_an_hour": "the length per hour",
}
"""The ways to enter a pace, as an error names them."""


def _one_pace(
    paces: dict[str, Quantity | None], pace_minutes: Quantity | None, area: Quantity | None, length: Quantity | None
) -> list[FieldProblem]:
    """Return what is missing from a pace, or which of several paces to leave blank."""
    given = [name for name, pace in paces.items() if pace is not None or (name == "pace_mass" and pace_minutes is not None)]
    if len(given) > 1:
        named = [_PACE_WORDS[name] for name in given]
        what = f"your pace was entered more than once: as {' and as '.join(named)}"
        return [FieldProblem(given[-1], what, f"keep one: leave this blank, or clear {' and '.join(named[:-1])}")]
    beside = (
        ("pace_mass", paces["pace_mass"], pace_minutes, "the pot's minutes are", "the pot size in g"),
        ("pace_minutes", pace_minutes, paces["pace_mass"], "the pot's mass is", "how many minutes it took"),
        ("area", area, paces["area_an_hour"], "the area per hour is", "the area the mix covers"),
        ("length", length, paces["length_an_hour"], "the length per hour is", "the length the mix is for"),
    )
    return [
        FieldProblem(name, f"blank, but {what} entered", f"enter {fix}, or leave both blank")
        for name, own, other, what, fix in beside
        if own is None and other is not None
    ]


def _limit_given(largest: Quantity | None, use_by: Quantity | None, has_pace: bool) -> list[FieldProblem]:
    if largest is None and (use_by is None or not has_pace):
        fix = (
            "enter the largest pot (the potlife calculator works it out), or the use-by time with the grams and minutes of a "
            "pot you timed"
        )
        return [FieldProblem("largest", "the largest safe pot can't be worked out from what you entered", fix)]
    return []


def _line_problems(line: Mapping[str, Value | None], way: str, use_by: Quantity | None) -> list[FieldProblem]:
    """Return what is wrong with the data-sheet figures, or missing for a pot that is poured out at once."""
    first = some(line, ("sheet_time", "sheet_mass", "sheet_temperature", "temperature"))
    fix = "enter the data-sheet pot life with its mass and temperature, and the temperature of the mix"
    if all(value is None for value in first.values()):
        problems = given(
            some(line, ("room", "sheet_time_2", "sheet_temperature_2")), "is used only with the data-sheet pot life", fix
        )
        if way == _POURED:
            problems.append(FieldProblem("way", "a pot poured out at once needs the data-sheet figures", fix))
        return problems
    return [
        *together(first, "nothing entered", fix),
        *together(
            some(line, ("sheet_time_2", "sheet_temperature_2")),
            "nothing entered",
            "enter both the time and the temperature of the second data-sheet line, or neither",
        ),
        *given({"use_by": use_by}, "the data-sheet pot life already sets this", "leave this blank"),
    ]


def _is_instant(mass: Quantity | None, minutes: Quantity | None, stir: Quantity) -> bool:
    """Return whether the timed pot was finished too soon to have been spread."""
    if mass is None or minutes is None:
        return False
    return minutes.value_in("min") - stir.value_in("min") < _INSTANT.value * (1 - NOISE)


def _hardener_per_resin(ratio: Ratio | None, resin_density: float | None, hardener_density: float | None) -> tuple[float, str]:
    """Return g of hardener per 1 g of resin with its working; 0 and no working if no ratio was entered."""
    if ratio is None:
        return 0.0, ""
    by_weight, times = mixing.per_resin(ratio, resin_density, hardener_density), ""
    if ratio.basis == "volume" and resin_density is not None and hardener_density is not None:
        times = f" × {sig(hardener_density)}/{sig(resin_density)}"
    refuse(*mixing.ratio_problems(ratio, by_weight * 100))
    a, b = mixing.parts(ratio)
    return by_weight, f"hardener per 1 g of resin = {b}/{a}{times} = {sig(by_weight)} g"


def _covered(job: _Job, next_pot: int, working: list[str]) -> Answer:
    """Return the answer when nothing is left to mix."""
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
            f"you have mixed {sig(job.done)} g and the job needs {sig(job.total)} g: stop mixing. If you find a dry spot, "
            "plan it as a new job",
        ),
    )


def _too_slow(pace: _Pace | None, least: float, time: _Time, job: _Job, worked: float, working: list[str]) -> Answer:
    """Return the answer when no pot worth mixing can be spread in time, with the pot life needed, margin included."""
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
    """Return why even the smallest pot can't be spread in time, and the pot life that would do; None if no pot life helps."""
    life, planned = "use-by" if time.cup is None else "pot life", sig(time.planned(least) or 0.0)
    kept = f"({sig(100 * (1 - time.share))} % of the {life} kept spare)"
    remedy = "a slower hardener, a cooler mix and shop within the data-sheet limits, or a helper"
    if time.film is not None and time.cup is not None and time.share * time.cup.empty_by(least) < time.pouring:
        enough = round_up(time.pouring / time.share)
        late = f"a pot of {sig(least)} g may go off before it is poured out {sig(time.pouring)} min after the first drop {kept}"
        return f"even {late}: do not mix. You need a {life} of {enough} min or more: {remedy}", enough
    if pace is None or time.film is not None:
        return (
            f"even a pot of {sig(least)} g takes more than the {planned} min planned to pour and spread it: do not mix. You "
            f"need {remedy}",
            None,
        )
    enough = round_up(pace.minutes(least) / time.share)
    return (
        f"even a pot of {sig(least)} g takes longer than the {planned} min you have {kept}: do not mix. You need a {life} of "
        f"{enough} min or more: {remedy}",
        enough,
    )


def _verdict(pace: _Pace | None, time: _Time, by_size: _Plan) -> str:
    """Return the verdict; `by_size` is the plan if only the largest pot set the limit."""
    planned = time.planned(by_size.each)
    if pace is None or planned is None:
        return _UNKNOWN
    return _FITS if pace.minutes(by_size.each) <= planned * (1 + NOISE) else _SMALLER


def _cup_cautions(time: _Time, plan: _Plan, top: float, job: _Job) -> list[str]:
    """Return the cautions on how long a planned cup lasts compared with the data sheet, and on pots over its mass."""
    cup = time.cup
    if cup is None:
        return []
    found = [*_above_the_sheet(time, cup, plan), *_other_than_the_sheet(cup, plan)]
    if job.rest > cup.reach * (1 + NOISE) and top >= cup.reach * (1 - NOISE):
        found.append(
            f"pots are limited to {sig(cup.reach)} g: a data-sheet pot life can be trusted only up to {_REACH.value:g} "
            "times its test mass"
        )
    return found


def _above_the_sheet(time: _Time, cup: Cup, plan: _Plan) -> list[str]:
    if plan.each <= cup.tested * (1 + NOISE):
        return []
    life = f"the {sig(cup.sheet.mass)} g that the data sheet gives {sig(cup.sheet.minutes)} min for"
    held = f"{sig(cup.holds(plan.each))} g in a cup is more than {life}"
    by = f"{_tenth_down(cup.empty_by(plan.each))} min"
    if time.film is not None:
        return [
            f"{held}: it heats up more. Pour it all out within {sig(time.pouring)} min of the first drop of hardener and never "
            f"leave it in the cup: after {by} it can go off, smoke or burn"
        ]
    return [f"{held}: it heats up more, and {by} in the cup is a calculated time, not a tested one. Smaller pots are safer"]


def _other_than_the_sheet(cup: Cup, plan: _Plan) -> list[str]:
    """Return why a planned cup lasts longer or shorter than the data sheet says."""
    by, sheet = _tenth_down(cup.empty_by(plan.each)), cup.sheet
    if by == _tenth_down(sheet.minutes):
        return []
    told = f"the data sheet says {sig(sheet.minutes)} min for {sig(sheet.mass)} g at {sig(sheet.celsius)} °C; yours is"
    yours = f"{sig(cup.holds(plan.each))} g at {sig(cup.celsius)} °C"
    if by > sheet.minutes:
        return [f"{told} {yours}: cooler resin goes off later, so you have {by} min. A smaller pot won't last longer"]
    why = [
        *(["warmer resin goes off sooner"] if max(cup.celsius, cup.room) > sheet.celsius else []),
        *([_HEATS] if plan.each > cup.tested * (1 + NOISE) else []),
    ]
    if why == [_HEATS]:  # said with what such a pot asks for
        return []
    reason = " and ".join(why) or f"the middle of the pot gets above {WARM:g} °C before it sets"
    return [f"{told} {yours}: {reason}, so you only have {by} min"]


def _film_cautions(time: _Time, thin_film: Quantity | None) -> list[str]:
    """Return the caution on the thin-film time when the data sheet gives none, or gives it for a cooler film."""
    if time.film is None or time.cup is None:
        return []
    told = time.cup.sheet.minutes if thin_film is None else thin_film.value_in("min")
    found = []
    if thin_film is None:
        found.append(
            f"no thin-film time entered, so the {sig(told)} min pot life is used, which is on the safe side. Look in "
            "the data sheet for a thin-film, working or open time"
        )
    if time.film < told * (1 - NOISE):
        found.append(
            f"the {sig(told)} min film time is for {sig(time.cup.sheet.celsius)} °C: your mix is warmer, so count on "
            f"{_tenth_down(time.film)} min"
        )
    return found


def _instant_cautions(minutes: Quantity | None, stir: Quantity) -> list[str]:
    if minutes is None:
        return []
    return [
        f"a pot emptied in {units.show(minutes)}, when pouring and stirring take {units.show(stir)}, is too quick to be a real "
        "pace, so it is ignored. Time the next pot from the first drop of hardener until the cup is empty"
    ]


def _unknown_cautions(largest: Quantity | None, time: _Time, pace: _Pace | None, plan: _Plan) -> list[str]:
    lasts = time.ends(plan.each)
    if pace is None or lasts is None:
        wanted = "its grams, minutes and use-by time" if time.cup is None else "its grams and minutes"
        return [
            "nothing here checks that you can spread a pot before it goes off: time the first pot from the first drop of "
            f"hardener until the cup is empty, and enter {wanted}"
        ]
    if largest is None and time.cup is None:
        return [
            f"check that a pot of {sig(plan.each)} g really lasts {sig(lasts)} min: bigger pots go off sooner. Enter the "
            "largest pot too (the potlife calculator works it out for that time)"
        ]
    return []


def _far_cautions(pace_mass: Quantity | None, pace: _Pace | None, plan: _Plan) -> list[str]:
    if pace_mass is None or pace is None:
        return []
    timed = pace_mass.value_in("g")
    if timed / _FAR.value <= plan.each <= timed * _FAR.value:
        return []
    return [
        f"you timed a pot of {sig(timed)} g, but these are {sig(plan.each)} g: time the first one, then plan the rest with its "
        "grams and minutes"
    ]


def _size_cautions(plan: _Plan) -> list[str]:
    if plan.each <= _BIG_POT.value:
        return []
    return [
        f"{plan.each:.0f} g in one pot heats up, goes off early and may smoke (common practice): keep pots to "
        f"{_BIG_POT.value:g} g or less, or pour it straight into a flat tray; see the potlife calculator"
    ]


def _rest_cautions(job: _Job) -> list[str]:
    if job.done == 0 or job.rest >= _LEAST_POT.value:
        return []
    return [f"only {sig(job.rest)} g left to mix, about what stays in the cup and brush: check whether the work still needs it"]


def _scale_cautions(weighed: Mapping[str, float], step: float) -> list[str]:
    """Return the caution for a scale too coarse for the last pot."""
    hardener, error = weighed["last_hardener"], weighed["scale_error"]
    if error <= _TOLERANCE.value:
        return []
    finest = _step_for(weighed["last_scale_resin"], hardener)
    if finest < _FINEST.value:
        return [f"{sig(hardener, 2)} g of hardener is too little to weigh: mix a bigger pot and discard what you don't use"]
    return [
        f"with {sig(hardener, 3)} g of hardener, a scale that reads in steps of {sig(step)} g can be {error:.0f} % off, more "
        f"than the usual {_TOLERANCE.value:g} %: use one that reads to {sig(finest)} g or finer"
    ]


_MASS = Measure("g", low=1, high=50_000, soft_low=20, soft_high=10_000)
"""Allowed weight of the mix for a job."""

_POT = Measure("g", low=1, high=5000, soft_low=20, soft_high=500)
"""Allowed weight of one pot."""

_OUTPUTS = (
    Output("pots", "Pots", "", 0),
    Output("each", "Each pot still to mix", "g"),
    Output("last", "Last pot", "g"),
    Output("scale_resin", "Each pot, resin to", "g"),
    Output("scale_hardener", "Each pot, then hardener to", "g"),
    Output("last_scale_resin", "Last pot, resin to", "g"),
    Output("last_scale_hardener", "Last pot, then hardener to", "g"),
    Output("filler", "Filler per pot", "g"),
    Output("scale_filler", "Each pot, then filler to", "g"),
    Output("last_scale_filler", "Last pot, then filler to", "g"),
    Output("minutes", "Each pot takes", "min"),
    Output("empty_by", "Each cup empty by", "min"),
    Output("film", "Thin film stays workable", "min"),
    Output("spare", "Spare time per pot", "min"),
    Output("whole", "Time for the pots still to mix", "min", 0),
    Output("total", "Total to mix", "g"),
    Output("rest", "Still to mix", "g"),
    Output("pot_area", "Area per pot", "m²", 2),
    Output("pot_length", "Length per pot", "m", 2),
    Output("area_an_hour", "Pace, area per hour", "m²/h", 2),
    Output("length_an_hour", "Pace, length per hour", "m/h", 2),
    Output("verdict", "Your pace"),
    Output("worked", "Largest pot you can spread in time", "g"),
    Output("planned", "Planned time per pot", "min"),
    Output("use_by_enough", "Pot life needed", "min", 0),
    Output("last_hardener", "Hardener in the last pot", "g"),
    Output("scale_error", "Ratio error from the scale's step, ±", "%"),
    Output("bound", "Largest pot allowed", "g"),
    Output("step_enough", "Coarsest scale step that will do", "g", 2),
)
"""The outputs, most important first."""

CALCULATOR = Calculator(
    name="pots", title="Number and size of pots for a job, in grams",
    inputs=(
        Field("needed", "Mix needed", _MASS,
            "From the laminate, fillet or bead calculator. If you enter filler below, include its weight here.", required=True),
        Field("loss", "Waste in cup and tools", Measure("%", low=0, high=100, soft_high=40),
            "Usually 10 to 15 %, or 20 % for pots under 100 g. Enter 0 if the mix needed already includes it.",
            default="0 %"),
        Field("filler_loading", "Filler, % of the mixed epoxy by weight", Measure("%", low=0, high=300, soft_high=60),
            "Its weight comes off the mix needed, which leaves the epoxy to weigh out.", default="0 %"),
        Field("largest", "Largest pot", _POT, "The potlife calculator works it out for the time you need."),
        Field("use_by", "Use by", Measure("min", low=1, high=1000, soft_high=240),
            "How long the largest pot lasts, from the first drop of hardener."),
        Field("in_hand", "Pot-life margin", Measure("%", low=0, high=50, soft_low=10),
            "Share of the use-by time kept spare. Enter 50 % for paste in a piping bag.", default=_IN_HAND),
        Field("pace_mass", "A pot you timed: grams", _POT, "A pot you have mixed and spread against the clock."),
        Field("pace_minutes", "A pot you timed: minutes", Measure("min", low=0.5, high=1000, soft_low=4, soft_high=120),
            "From the first drop of hardener until the cup is empty and the epoxy is spread."),
        Field("stir", "Time to pour and stir", Measure("min", low=0, high=60, soft_low=2, soft_high=10),
            "Included in the minutes above. Much the same for a small pot and a large one.", default=f"{STIR:g} min"),
        Field("area", "Area the mix covers", Measure("m²", low=0.001, high=1000, soft_high=50), "The whole job."),
        Field("area_an_hour", "Your pace: area per hour", Measure("m²/h", low=0.01, high=100, soft_low=0.3, soft_high=20),
            "Spreading only, without pouring and stirring. Use it instead of a timed pot."),
        Field("length", "Length the mix is for", Measure("m", low=0.01, high=1000, soft_high=100),
            "Total length of fillet or bead."),
        Field("length_an_hour", "Your pace: length per hour", Measure("m/h", low=0.01, high=1000, soft_low=0.5, soft_high=100),
            "Laying and shaping only, without pouring and stirring. Use it instead of a timed pot."),
        Field("mixed", "Mixed in earlier pots", Measure("g", low=0, high=100_000),
            "To replan a job partway through: resin plus hardener in the pots so far.", default="0 g"),
        Field("next_pot", "Number of the next pot", Count(1, 9999), "1 if you have not mixed any yet.", default="1"),
        Field("scale_step", "Step of the scale", Measure("g", low=0.001, high=10, soft_high=5),
            "The smallest change it shows. Pots are rounded up to it, and the last one gets what is left.", default="1 g"),
        Field("ratio", "Mix ratio, resin first", RatioKind(), "Needed for the scale readings."),
        Field("resin_density", "Density of the resin", mixing.RESIN_DENSITY,
            "From the data sheet; needed for a ratio by volume."),
        Field("hardener_density", "Density of the hardener", mixing.HARDENER_DENSITY,
            "From the data sheet; needed for a ratio by volume."),
        Field("way", "How a pot is used", Choice((_CUP, _POURED)),
            "Poured out at once: all of it onto a flat face or into a tray as soon as it is stirred, then spread. Needs the "
            "data-sheet figures.",
            default=_CUP),
        Field("sheet_time", "Data sheet: pot life", Measure("min", low=3, high=600, soft_low=5, soft_high=240),
            "Enter this and the next three instead of the use-by time. The time each pot lasts is then worked out from its "
            "size, as in the potlife calculator."),
        Field("sheet_mass", "Data sheet: test mass", Measure("g", low=10, high=5000, soft_low=50, soft_high=500),
            "A pot that stays in the cup is never heavier than this, filler included, unless you enter a largest pot."),
        Field("sheet_temperature", "Data sheet: test temperature",
            Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=18, soft_high=30)),
        Field("temperature", "Temperature of the mix", Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=15, soft_high=35),
            "Resin and hardener as you pour them, warmed or not."),
        Field("room", "Temperature of the room", Measure("°C", low=cure.COLD, high=cure.HOT, soft_low=15, soft_high=35),
            "Blank: same as the mix."),
        Field("sheet_time_2", "Data sheet, second: pot life", Measure("min", low=3, high=600, soft_low=5, soft_high=240),
            "The pot life for the same mass at another temperature. It shows how much warmth speeds up the cure."),
        Field("sheet_temperature_2", "Data sheet, second: test temperature",
            Measure("°C", low=5, high=45, soft_low=12, soft_high=40)),
        Field("thin_film", "Data sheet: thin-film time", Measure("min", above=0, high=1440, soft_low=10, soft_high=480),
            "For a pot poured out at once. If the data sheet gives none, use its working or open time. Blank: the pot life."),
        Field("pouring", "Time to stir and pour out", Measure("min", low=1, high=60, soft_low=3, soft_high=10),
            "For a pot poured out at once, from the first drop of hardener.", default=_POURING),
    ),
    outputs=_OUTPUTS,
    source=(
        Source("fewest pots within the limit, in equal shares; time = stirring + minutes per gram × grams: arithmetic",
            "computed"),
        _HABIT,
        Source("min/g = 60 × area / (area per hour × g to mix), and the same for a length: arithmetic", "computed"),
        Source("pot life at your mass: the potlife calculator's heat balance, from the data sheet's pot life, up to the "
            "use-by time or 50 °C, whichever comes first", "computed"),
        _IN_AN_INSTANT,
        Source("5 min to stir and pour; a film lasts longer than the cup, so its time comes from the data sheet",
            "common practice"),
        Source("pot life runs from mixing and is for a stated mass: scope of ASTM D2471", "read"),
    ),
    valid="Equal pots of one two-part epoxy, used one after the other by one person. Time per pot is stirring, then a steady "
    "pace, from a pot you timed or from the area or length you spread per hour; time your pace again for another kind of work. "
    "Partway through a job, the number of pots is for the whole job and everything else is for the pots still to mix. Zero "
    "the scale with the empty cup on it. The use-by time must be right for the largest pot; the last 15 % of it is kept spare "
    "unless you change that. With data-sheet figures: mix and room at 12 to 40 °C, cups about as tall as wide. The time in "
    "the cup is calculated, as in the potlife calculator; the film time is from the data sheet, shortened if the mix is "
    "warmer.",
    examples=(
        Example({"needed": "500 g", "largest": "120 g", "use_by": "25 min", "pace_mass": "80 g", "pace_minutes": "15 min",
            "ratio": "100:45 by weight"}, {"pots": 5, "each": 100, "last": 100, "minutes": 18, "spare": 7, "whole": 90,
            "scale_resin": 68.96552, "scale_hardener": 100, "last_scale_hardener": 100, "last_hardener": 31.03448,
            "scale_error": 3.976049, "step_enough": 1, "verdict": "fits"},
            Source("500/120 rounds up to 5; 100 g at 12 min per 80 g is 15 min, 18 with stirring; 100/1.45; 32.03 g in "
                "68.47 g instead of 31.03 in 68.97: arithmetic", "computed")),
        Example({"needed": "400 g", "largest": "200 g", "use_by": "20 min", "pace_mass": "60 g", "pace_minutes": "13 min",
            "stir": "3 min"}, {"pots": 5, "each": 80, "last": 80, "minutes": 16.33333, "verdict": "fits in smaller pots"},
            Source("17 of 20 min, less 3, at 6 g per minute is 84 g, below the 200 g allowed; 400/84 rounds up to 5: "
                "arithmetic",
            "computed")),
        Example({"needed": "250 g", "loss": "10 %", "largest": "100 g", "ratio": "2:1 by volume", "resin_density": "1.15",
            "hardener_density": "0.97"}, {"total": 275, "pots": 3, "each": 92, "last": 91, "scale_resin": 64.70948,
            "last_scale_resin": 64.00612, "verdict": "pace not given"},
            Source("275/3 = 91.67, rounded up to 92; 3.27 g of mix has 2.30 g of resin: arithmetic", "computed")),
        Example({"needed": "600 g", "largest": "150 g", "use_by": "30 min", "area": "1.5 m²", "area_an_hour": "1 m²/h"},
            {"pots": 4, "each": 150, "minutes": 25.5, "spare": 4.5, "pot_area": 0.375, "area_an_hour": 1, "verdict": "fits"},
            Source("150 of 600 g covers 0.375 m², which takes 22.5 min at 1 m² per hour, 25.5 with stirring: arithmetic",
                "computed")),
        Example({"needed": "200 g", "largest": "100 g", "use_by": "25 min", "pace_mass": "50 g", "pace_minutes": "23 min",
            "length": "8 m", "mixed": "50 g", "next_pot": "2", "in_hand": "0 %"}, {"pots": 4, "rest": 150, "each": 50, "last": 50,
            "minutes": 23, "pot_length": 2, "length_an_hour": 6},
            Source("22 min at 2.5 g per minute is 55 g; 150/55 rounds up to 3 more pots; 50 of 200 g does 2 of 8 m in 20 min: "
                "arithmetic",
            "computed")),
        Example({"needed": "100 g", "largest": "60 g", "mixed": "110 g", "next_pot": "3"}, {"pots": 2, "rest": 0,
            "verdict": "enough is mixed"}, Source("110 g is more than 100 g: arithmetic", "computed")),
        Example({"needed": "500 g", "use_by": "25 min", "pace_mass": "80 g", "pace_minutes": "15 min"}, {"planned": 21.25,
            "worked": 121.6667, "pots": 5}, Source("85 % of 25 min; 18.25 min at 0.15 min per gram: arithmetic", "computed")),
        Example({"needed": "350 g", "filler_loading": "40 %", "largest": "125 g"}, {"total": 250, "pots": 2, "each": 125,
            "filler": 50, "scale_filler": 175, "last_scale_filler": 175},
            Source("250 g of epoxy and 100 g of filler are 350 g: arithmetic", "computed")),
        Example({"needed": "357 g", "way": "poured out at once", "sheet_time": "20 min", "sheet_mass": "100 g",
            "sheet_temperature": "25 °C", "temperature": "25 °C", "thin_film": "50 min", "area": "2.9768 m²",
            "area_an_hour": "6 m²/h"}, {"pots": 1, "each": 357, "film": 50, "minutes": 34.768, "spare": 20.232},
            Source("2.9768 m² at 6 m²/h takes 29.768 min, plus 5 to stir and pour: arithmetic", "computed")),
        Example({"needed": "357 g", "sheet_time": "20 min", "sheet_mass": "100 g", "sheet_temperature": "25 °C",
            "temperature": "25 °C", "area": "2.9768 m²", "area_an_hour": "20 m²/h"}, {"pots": 4, "each": 90, "last": 87},
            Source("357/100 rounds up to 4; 89.25 rounds up to the next gram: arithmetic", "computed")),
    ),
    asked=("needed", "pace_mass", "pace_minutes"),
    stock=Stock("resin", mixing.FIGURES | POT_LIFE_FIGURES | {"thin_film": "thin_film"}),
    readings={"temperature": ("bottles", "air"), "room": ("air",)},
    compute=_compute, thresholds=(_LEAST_POT, _BIG_POT, _TOLERANCE, _FAR, _INSTANT, _REACH, _FINEST),
)  # fmt: skip
