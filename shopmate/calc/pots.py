"""A job split into pots, or what is left of it: how many, how large, what the scale reads, whether each is worked in time."""

from __future__ import annotations

import math

from shopmate import units
from shopmate.calculator import Answer, Calculator, Count, Example, Field, Measure, Output, RatioKind, Source
from shopmate.errors import FieldProblem, InputError
from shopmate.models.fields import round_up
from shopmate.records import dataclass
from shopmate.units import Quantity, Ratio
from shopmate.units import significant as sig

_STIR = "3 min"
"""From the first drop of hardener to the first stroke: pouring, and two minutes of stirring [common practice]."""

_LEAST_POT = 10.0
"""Mass in g under which a pot is hardly more than cup and brush keep [common practice]."""

_BIG_POT = 500.0
"""Mass of epoxy in g over which one pot warms itself noticeably and goes off early [common practice]."""

_ALLOWANCE = 0.05
"""Usual allowance on the hardener, as a share of it [common practice]."""

_FAR = 3.0
"""How many times larger or smaller than the timed pot a pot may be before its time is called a guess (ours)."""

_NOISE = 1e-9
"""What the last digits of floating-point arithmetic may cost: a pot that just fits is taken."""

_LEAST_PHR, _MOST_PHR = 1.0, 1000.0
"""Hardener in parts per 100 of resin by weight beyond which a ratio is a slip of the keys [memory]."""

_ONE_BY_ONE = (
    "pour hardener into the next pot only when the last one is empty: its time runs from the first drop; a leftover goes "
    "outdoors, flat, on bare ground, as it can smoke or burn (see the data sheet)"
)
"""Said with every plan: cups set out with hardener in them all go off together [common practice]."""

_FITS, _SMALLER, _SLOW, _UNKNOWN = "fits", "fits in smaller pots", "too slow for this pot life", "pace not given"
"""What is said of the pace: the pots by the largest mass are worked in time, only smaller ones are, none is, nobody knows."""

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


def _plan(total: float, most: float, step: float) -> _Plan:
    """Return the fewest pots that hold at most `most` each, as even as the scale allows, all in g.

    The most is taken down to a step of the scale and the even share up to one, so the share is never over the most and
    something is always left for the last pot.
    """
    most = math.floor(most / step * (1 + _NOISE)) * step
    pots = round_up(total / most)
    if pots == 1:
        return _Plan(1, total, total)
    each = round_up(total / pots / step) * step
    return _Plan(pots, each, total - (pots - 1) * each)


def _compute(
    *,
    needed: Quantity,
    loss: Quantity,
    largest: Quantity | None,
    use_by: Quantity | None,
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
) -> Answer:
    paces = {"pace_mass": pace_mass, "area_an_hour": area_an_hour, "length_an_hour": length_an_hour}
    problems = [
        *_one_pace(paces, pace_minutes, area, length),
        *_limit_given(largest, use_by, any(pace is not None for pace in (*paces.values(), pace_minutes))),
        *_pace_after_stirring(pace_minutes, stir),
        *_densities_for(ratio, resin_density, hardener_density),
    ]
    if problems:
        raise InputError(*problems)
    net, extra, step = needed.value_in("g"), loss.value_in("%"), scale_step.value_in("g")
    total, done = net * (1 + extra / 100), mixed.value_in("g")
    rest = total - done
    top = math.inf if largest is None else largest.value_in("g")
    lasts = None if use_by is None else use_by.value_in("min")
    per_resin, split = _hardener_per_resin(ratio, resin_density, hardener_density)
    working = [f"to mix = {sig(net)} g × {sig(1 + extra / 100)} (loss {sig(extra)} %) = {sig(total)} g"]
    if done > 0:
        working.append(f"still to mix = {sig(total)} g − {sig(done)} g = {sig(rest)} g")
    if rest < total * _NOISE:
        return _covered(total, done, next_pot, working)
    pace = _pace(pace_mass, pace_minutes, stir, working)
    for size, an_hour, unit in ((area, area_an_hour, "m²"), (length, length_an_hour, "m")):
        if size is not None and an_hour is not None:
            pace = _pace_of_work(size.value_in(unit), an_hour.value_in(f"{unit}/h"), unit, total, stir, working)
    worked = math.inf
    if pace is not None and lasts is not None:
        worked = pace.mass(lasts)
        working.append(
            f"worked in time = ({sig(lasts)} − {sig(pace.before)}) min / {sig(pace.per_gram, 3)} min/g = "
            f"{sig(max(worked, 0), 3)} g"
        )
        # A job smaller than the least pot is no reproach to the pace: it only has to be worked in time.
        least = min(_LEAST_POT, rest, top)
        if worked < least * (1 - _NOISE):
            return _too_slow(pace, least, lasts, total, rest, working)
    if min(top, worked) < step * (1 - _NOISE):
        what = f"a pot of {sig(min(top, worked))} g is less than one step of the scale, {units.show(scale_step)}"
        raise InputError(FieldProblem("scale_step", what, "give the step of a finer scale, or allow a larger pot"))
    plan = _plan(rest, min(top, worked), step)
    minutes = None if pace is None else pace.minutes(plan.each)
    working.append(
        f"pots = {sig(rest)} g / {sig(min(top, worked))} g, up = {plan.pots}; each {sig(rest)} g / {plan.pots}"
        + (
            f", up to a step of {units.show(scale_step)}, = {sig(plan.each)} g, the last {sig(plan.last)} g"
            if plan.pots > 1
            else ""
        )
        + (f"; with {next_pot - 1} before, {next_pot - 1 + plan.pots}" if next_pot > 1 else "")
    )
    if minutes is not None and pace is not None:
        working.append(
            f"each takes {sig(pace.before)} + {sig(pace.per_gram, 3)} × {sig(plan.each)} = {minutes:.1f} min"
            + (f", {lasts - minutes:.1f} min before it must be used up" if lasts is not None else "")
        )
    if ratio is not None:
        working += [split, f"resin of each = {sig(plan.each)} g / {sig(1 + per_resin)} = {sig(plan.each / (1 + per_resin))} g"]
    hardener = None if ratio is None else plan.last * per_resin / (1 + per_resin)
    return Answer(
        values={
            "pots": Quantity(float(next_pot - 1 + plan.pots), ""),
            "each": Quantity(plan.each, "g"),
            "last": Quantity(plan.last, "g"),
            "scale_resin": None if ratio is None else Quantity(plan.each / (1 + per_resin), "g"),
            "scale_hardener": None if ratio is None else Quantity(plan.each, "g"),
            "last_scale_resin": None if ratio is None else Quantity(plan.last / (1 + per_resin), "g"),
            "last_scale_hardener": None if ratio is None else Quantity(plan.last, "g"),
            "minutes": None if minutes is None else Quantity(minutes, "min"),
            "spare": None if minutes is None or lasts is None else Quantity(lasts - minutes, "min"),
            "whole": None
            if pace is None
            else Quantity((plan.pots - 1) * pace.minutes(plan.each) + pace.minutes(plan.last), "min"),
            "total": Quantity(total, "g"),
            "rest": Quantity(rest, "g"),
            "pot_area": _share(area, "m²", plan.each / total),
            "pot_length": _share(length, "m", plan.each / total),
            "area_an_hour": _an_hour(area, "m²", pace, total),
            "length_an_hour": _an_hour(length, "m", pace, total),
            "verdict": _verdict(pace, lasts, _plan(rest, top, step) if step <= top < math.inf else plan),
        },
        working=tuple(working),
        cautions=(
            *_unknown_cautions(largest, lasts, pace, plan),
            *_far_cautions(pace_mass, pace, plan),
            *_size_cautions(plan),
            *_rest_cautions(rest, done),
            *_scale_cautions(hardener, step),
            _ONE_BY_ONE,
        ),
    )


def _pace(pace_mass: Quantity | None, pace_minutes: Quantity | None, stir: Quantity, working: list[str]) -> _Pace | None:
    """Return the pace of a pot that was timed, with its working added; None where none was."""
    if pace_mass is None or pace_minutes is None:
        return None
    timed, taken, before = pace_mass.value_in("g"), pace_minutes.value_in("min"), stir.value_in("min")
    pace = _Pace(before, (taken - before) / timed)
    working.append(
        f"pace = ({sig(taken)} − {sig(before)}) min / {sig(timed)} g = {sig(pace.per_gram, 3)} min/g after {sig(before)} min "
        "of pouring and stirring"
    )
    return pace


def _pace_of_work(size: float, an_hour: float, unit: str, total: float, stir: Quantity, working: list[str]) -> _Pace:
    """Return the pace of so many m² or m an hour, on which all of the mix is spread, with its working added."""
    pace = _Pace(stir.value_in("min"), 60 * size / an_hour / total)
    working.append(
        f"pace = 60 min/h × {sig(size)} {unit} / ({sig(an_hour)} {unit}/h × {sig(total)} g) = {sig(pace.per_gram, 3)} min/g "
        f"after {sig(pace.before)} min of pouring and stirring"
    )
    return pace


def _share(size: Quantity | None, unit: str, share: float) -> Quantity | None:
    """Return what one pot covers of the area or the length; None where that is not given."""
    return None if size is None else Quantity(size.value_in(unit) * share, unit)


def _an_hour(size: Quantity | None, unit: str, pace: _Pace | None, total: float) -> Quantity | None:
    """Return the pace as area or length an hour of spreading; None where either is not known."""
    if size is None or pace is None:
        return None
    return Quantity(60 * size.value_in(unit) / (pace.per_gram * total), f"{unit}/h")


def _one_pace(
    paces: dict[str, Quantity | None], pace_minutes: Quantity | None, area: Quantity | None, length: Quantity | None
) -> list[FieldProblem]:
    """Return what is missing beside a pace, or which of several paces to leave empty."""
    given = [name for name, pace in paces.items() if pace is not None or (name == "pace_mass" and pace_minutes is not None)]
    if len(given) > 1:
        what = f"a pace is given by {' and by '.join(given)}"
        others = " and ".join("pace_mass, pace_minutes" if name == "pace_mass" else name for name in given[:-1])
        return [FieldProblem(given[-1], what, f"leave it empty, or leave {others} empty")]
    if paces["pace_mass"] is None and pace_minutes is not None:
        return [FieldProblem("pace_mass", "missing beside its minutes", "give the g of that pot, or leave both empty")]
    if pace_minutes is None and paces["pace_mass"] is not None:
        return [FieldProblem("pace_minutes", "missing beside its mass", "give the minutes of that pot, or leave both empty")]
    if paces["area_an_hour"] is not None and area is None:
        return [FieldProblem("area", "missing beside the area an hour", "give the m² that the mix covers, or leave both empty")]
    if paces["length_an_hour"] is not None and length is None:
        return [FieldProblem("length", "missing beside the length an hour", "give the m the mix is for, or leave both empty")]
    return []


def _limit_given(largest: Quantity | None, use_by: Quantity | None, has_pace: bool) -> list[FieldProblem]:
    if largest is None and (use_by is None or not has_pace):
        fix = "give the largest pot (the calculator potlife finds it), or the use-by with the mass and minutes of a pot of yours"
        return [FieldProblem("largest", "nothing says how large a pot may be", fix)]
    return []


def _pace_after_stirring(pace_minutes: Quantity | None, stir: Quantity) -> list[FieldProblem]:
    if pace_minutes is None or pace_minutes.value_in("min") > stir.value_in("min"):
        return []
    what = f"{units.show(pace_minutes)} are over before spreading begins, at {units.show(stir)}"
    return [
        FieldProblem("pace_minutes", what, "count from the first drop of hardener, stirring included; or give a shorter stir")
    ]


def _densities_for(ratio: Ratio | None, resin_density: Quantity | None, hardener_density: Quantity | None) -> list[FieldProblem]:
    if ratio is None or ratio.basis == "weight":
        return []
    fix = "give it in g/mL from the data sheet, or give the ratio by weight"
    return [
        FieldProblem(name, "needed to weigh a ratio by volume", fix)
        for name, given in (("resin_density", resin_density), ("hardener_density", hardener_density))
        if given is None
    ]


def _hardener_per_resin(
    ratio: Ratio | None, resin_density: Quantity | None, hardener_density: Quantity | None
) -> tuple[float, str]:
    """Return g of hardener to 1 g of resin with its working; 0 and nothing where no ratio is given."""
    if ratio is None:
        return 0.0, ""
    a, b = units.show_number(ratio.a), units.show_number(ratio.b)
    by_weight, times = float(ratio.b / ratio.a), ""
    if ratio.basis == "volume" and resin_density is not None and hardener_density is not None:
        by_weight *= hardener_density.value_in("g/mL") / resin_density.value_in("g/mL")
        times = f" × {sig(hardener_density.value_in('g/mL'))}/{sig(resin_density.value_in('g/mL'))}"
    if not _LEAST_PHR <= by_weight * 100 <= _MOST_PHR:
        what = f"{ratio} is {sig(by_weight * 100, 3)} g of hardener to 100 g of resin, which no epoxy takes"
        raise InputError(FieldProblem("ratio", what, "give the data sheet's ratio, resin first"))
    return by_weight, f"hardener to 1 g of resin = {b}/{a}{times} = {sig(by_weight)} g"


def _covered(total: float, done: float, next_pot: int, working: list[str]) -> Answer:
    """Return that nothing is left to mix."""
    return Answer(
        values={
            **dict.fromkeys(output.name for output in CALCULATOR.outputs),
            "pots": Quantity(float(next_pot - 1), ""),
            "total": Quantity(total, "g"),
            "rest": Quantity(0.0, "g"),
            "verdict": _COVERED,
        },
        working=tuple(working),
        cautions=(
            f"{sig(done)} g mixed is all of the {sig(total)} g needed: mix no more unless the work shows a dry place, and give "
            "what that takes as what is needed",
        ),
    )


def _too_slow(pace: _Pace, least: float, lasts: float, total: float, rest: float, working: list[str]) -> Answer:
    """Return that no pot worth mixing is worked in time, with the pot life that would be enough."""
    enough = round_up(pace.minutes(least))
    return Answer(
        values={
            **dict.fromkeys(output.name for output in CALCULATOR.outputs),
            "total": Quantity(total, "g"),
            "rest": Quantity(rest, "g"),
            "verdict": _SLOW,
        },
        working=tuple(working),
        cautions=(
            f"even a pot of {sig(least)} g takes longer than the {sig(lasts)} min it lasts: do not mix. It takes a use-by of "
            f"{enough} min or more: a slower hardener, resin and shop cooler within the limits of the data sheet, or a second "
            "pair of hands",
        ),
    )


def _verdict(pace: _Pace | None, lasts: float | None, by_size: _Plan) -> str:
    """Return the verdict; `by_size` is the plan that the largest pot alone would make."""
    if pace is None or lasts is None:
        return _UNKNOWN
    return _FITS if pace.minutes(by_size.each) <= lasts * (1 + _NOISE) else _SMALLER


def _unknown_cautions(largest: Quantity | None, lasts: float | None, pace: _Pace | None, plan: _Plan) -> list[str]:
    if pace is None or lasts is None:
        return [
            "nothing was said of your pace against the pot life: time the first pot from the first drop of hardener until "
            "the cup is empty, and give its mass, its minutes and the use-by"
        ]
    if largest is None:
        return [
            f"the use-by of {sig(lasts)} min must hold for a pot of {sig(plan.each)} g: give the largest pot too, which the "
            "calculator potlife finds for that time"
        ]
    return []


def _far_cautions(pace_mass: Quantity | None, pace: _Pace | None, plan: _Plan) -> list[str]:
    if pace_mass is None or pace is None:
        return []
    timed = pace_mass.value_in("g")
    if timed / _FAR <= plan.each <= timed * _FAR:
        return []
    return [
        f"your pace is from a pot of {sig(timed)} g, these hold {sig(plan.each)} g: time the first one and plan the rest "
        "with its mass and minutes"
    ]


def _size_cautions(plan: _Plan) -> list[str]:
    if plan.each <= _BIG_POT:
        return []
    return [
        f"{plan.each:.0f} g in one pot warms itself, may smoke and goes off early (common practice): take {_BIG_POT:g} g as the "
        "largest pot, or pour it into a flat tray at once; see potlife"
    ]


def _rest_cautions(rest: float, done: float) -> list[str]:
    if done == 0 or rest >= _LEAST_POT:
        return []
    return [f"only {sig(rest)} g are left to mix, hardly more than cup and brush keep: look first whether the work needs them"]


def _scale_cautions(hardener: float | None, step: float) -> list[str]:
    if hardener is None or step <= _ALLOWANCE * hardener:
        return []
    limit = _ALLOWANCE * hardener
    power = 10.0 ** math.floor(math.log10(limit))
    finest = next(number * power for number in (5, 2, 1) if number * power <= limit or number == 1)
    if finest < 0.001:
        return [f"{sig(hardener, 2)} g of hardener is too little to weigh: mix more and throw the rest away"]
    return [
        f"a scale step of {sig(step)} g can put {sig(hardener, 3)} g of hardener {step / hardener * 100:.0f} % off, more than "
        f"the usual {_ALLOWANCE * 100:g} %: weigh on a scale with a step of {sig(finest)} g or finer"
    ]


_MASS = Measure("g", low=1, high=50_000, soft_low=20, soft_high=10_000)
"""What a job may take."""

_POT = Measure("g", low=1, high=5000, soft_low=20, soft_high=500)
"""What one pot holds."""

CALCULATOR = Calculator(
    name="pots",
    title="A job split into pots",
    inputs=(
        Field("needed", "Mix needed on the work", _MASS, "From laminate, fillet or bead; no filler.", required=True),
        Field(
            "loss",
            "Loss in cup and tools",
            Measure("%", low=0, high=100, soft_high=40),
            "Added on top; 0 where it is in what is needed already. Commonly 10 %.",
            default="0 %",
        ),
        Field("largest", "Largest pot", _POT, "Potlife finds it for a time needed."),
        Field(
            "use_by",
            "Use by",
            Measure("min", low=1, high=1000, soft_high=240),
            "Time a pot of the largest size lasts, from the first drop of hardener.",
        ),
        Field("pace_mass", "Your pace: a pot of", _POT, "One that you worked and timed."),
        Field(
            "pace_minutes",
            "Your pace: empty after",
            Measure("min", low=0.5, high=1000, soft_low=4, soft_high=120),
            "From the first drop of hardener until the cup is empty and the epoxy lies.",
        ),
        Field(
            "stir",
            "Of that: before spreading",
            Measure("min", low=0, high=60, soft_low=2, soft_high=10),
            "Pouring and stirring, the same for a small pot and a large one.",
            default=_STIR,
        ),
        Field("area", "Area the mix covers", Measure("m²", low=0.001, high=1000, soft_high=50), "All of it."),
        Field(
            "area_an_hour",
            "Your pace: area an hour",
            Measure("m²/h", low=0.01, high=100, soft_low=0.3, soft_high=20),
            "Spreading alone, pouring and stirring not counted; in place of a timed pot.",
        ),
        Field(
            "length", "Length the mix is for", Measure("m", low=0.01, high=1000, soft_high=100), "Of fillet or bead, all of it."
        ),
        Field(
            "length_an_hour",
            "Your pace: length an hour",
            Measure("m/h", low=0.01, high=1000, soft_low=0.5, soft_high=100),
            "Laying and forming alone, pouring and stirring not counted; in place of a timed pot.",
        ),
        Field(
            "mixed",
            "Mixed in earlier pots",
            Measure("g", low=0, high=100_000),
            "To plan the rest anew midway: what the pots so far held, resin with hardener.",
            default="0 g",
        ),
        Field("next_pot", "Number of the next pot", Count(1, 9999), "1 before the first; counted on from there.", default="1"),
        Field(
            "scale_step",
            "Step of the scale",
            Measure("g", low=0.001, high=10, soft_high=5),
            "Pots are rounded up to it; the last one takes what is left.",
            default="1 g",
        ),
        Field("ratio", "Mix ratio, resin first", RatioKind(), "For the readings of the scale."),
        Field(
            "resin_density",
            "Density of the resin",
            Measure("g/mL", low=0.8, high=2.5, soft_low=1.05, soft_high=1.25),
            "From the data sheet; needed for a ratio by volume.",
        ),
        Field(
            "hardener_density",
            "Density of the hardener",
            Measure("g/mL", low=0.7, high=2.5, soft_low=0.9, soft_high=1.1),
            "From the data sheet; needed for a ratio by volume.",
        ),
    ),
    outputs=(
        Output("pots", "Pots", "", 0),
        Output("each", "Each pot to come", "g"),
        Output("last", "Last pot", "g"),
        Output("scale_resin", "Each: resin to", "g"),
        Output("scale_hardener", "Each: hardener to", "g"),
        Output("last_scale_resin", "Last: resin to", "g"),
        Output("last_scale_hardener", "Last: hardener to", "g"),
        Output("minutes", "Each pot takes", "min"),
        Output("spare", "To spare in each", "min"),
        Output("whole", "Pots to come take", "min", 0),
        Output("total", "To mix in all", "g"),
        Output("rest", "Still to mix", "g"),
        Output("pot_area", "Each pot covers", "m²", 2),
        Output("pot_length", "Each pot does", "m", 2),
        Output("area_an_hour", "Pace in area", "m²/h", 2),
        Output("length_an_hour", "Pace in length", "m/h", 2),
        Output("verdict", "Your pace"),
    ),
    source=(
        Source("fewest pots under the limit, then even shares; time = stirring + minutes a gram × grams: arithmetic", "computed"),
        Source("3 min of pouring and stirring, 5 % on the hardener, 500 g as a big pot, 10 g as the least", "common practice"),
        Source("min/g = 60 × area / (area an hour × g to mix), the same for a length: arithmetic", "computed"),
        Source("pot life counts from mixing and holds for a stated mass: scope of ASTM D2471", "read"),
    ),
    valid=(
        "Pots of one two-part epoxy worked one after the other by one person, all of one size. The time of a pot is taken as "
        "stirring plus a constant pace, from one pot of your own or from the area or length you do in an hour of spreading, the "
        "mix lying evenly on it; a pot of another kind of work has another pace. Midway the count is that of the whole job, all "
        "else that of the pots to come. The scale is zeroed with the empty cup on it. The use-by must hold for pots of the "
        "largest size; filler comes on top."
    ),
    examples=(
        Example(
            {
                "needed": "500 g",
                "largest": "120 g",
                "use_by": "25 min",
                "pace_mass": "80 g",
                "pace_minutes": "15 min",
                "ratio": "100:45 by weight",
            },
            {
                "pots": 5,
                "each": 100,
                "last": 100,
                "minutes": 18,
                "spare": 7,
                "whole": 90,
                "scale_resin": 68.96552,
                "scale_hardener": 100,
                "verdict": "fits",
            },
            Source("500/120 up is 5; 100 g at 12 min for 80 g is 15 min, with stirring 18; 100/1.45: arithmetic", "computed"),
        ),
        Example(
            {
                "needed": "400 g",
                "largest": "200 g",
                "use_by": "20 min",
                "pace_mass": "60 g",
                "pace_minutes": "13 min",
                "stir": "3 min",
            },
            {"pots": 4, "each": 100, "last": 100, "minutes": 19.66667, "verdict": "fits in smaller pots"},
            Source("17 min at 6 g a minute is 102 g, less than the 200 g allowed; 400/102 up is 4: arithmetic", "computed"),
        ),
        Example(
            {
                "needed": "250 g",
                "loss": "10 %",
                "largest": "100 g",
                "ratio": "2:1 by volume",
                "resin_density": "1.15",
                "hardener_density": "0.97",
            },
            {
                "total": 275,
                "pots": 3,
                "each": 92,
                "last": 91,
                "scale_resin": 64.70948,
                "last_scale_resin": 64.00612,
                "verdict": "pace not given",
            },
            Source("275/3 = 91.67, up to 92; of 3.27 g mix 2.30 g are resin: arithmetic", "computed"),
        ),
        Example(
            {"needed": "600 g", "largest": "150 g", "use_by": "30 min", "area": "1.5 m²", "area_an_hour": "1 m²/h"},
            {"pots": 4, "each": 150, "minutes": 25.5, "spare": 4.5, "pot_area": 0.375, "area_an_hour": 1, "verdict": "fits"},
            Source("150 of 600 g cover 0.375 m², at 1 m² an hour 22.5 min, with stirring 25.5: arithmetic", "computed"),
        ),
        Example(
            {
                "needed": "200 g",
                "largest": "100 g",
                "use_by": "25 min",
                "pace_mass": "50 g",
                "pace_minutes": "23 min",
                "length": "8 m",
                "mixed": "50 g",
                "next_pot": "2",
            },
            {"pots": 4, "rest": 150, "each": 50, "last": 50, "minutes": 23, "pot_length": 2, "length_an_hour": 6},
            Source(
                "22 min at 2.5 g a minute is 55 g; 150/55 up is 3 more; 50 of 200 g are 2 of 8 m in 20 min: arithmetic",
                "computed",
            ),
        ),
        Example(
            {"needed": "100 g", "largest": "60 g", "mixed": "110 g", "next_pot": "3"},
            {"pots": 2, "rest": 0, "verdict": "enough is mixed"},
            Source("110 g are more than 100 g: arithmetic", "computed"),
        ),
    ),
    compute=_compute,
)
