"""What one person or a team may lift, by the NIOSH lifting equation and published team factors."""

from __future__ import annotations

import math
from collections.abc import Mapping, Sequence

from shopmate.calculator import (
    Answer,
    Calculator,
    Choice,
    Count,
    Either,
    Example,
    Field,
    Measure,
    Output,
    Source,
    Threshold,
    Value,
    joined,
)
from shopmate.errors import FieldProblem
from shopmate.models.constants import LOAD_CONSTANT, NOISE
from shopmate.models.fields import given, in_unit, missing, refuse, together
from shopmate.models.lifting import (
    AT_AN_EDGE,
    BARE_EDGE,
    EDGES_SOURCE,
    FAR,
    NEAR,
    OTHER_WAYS,
    REACH_SOURCE,
    TEAM_FACTORS,
    TEAM_SOURCE,
    fewest,
    horizontal,
    reach_alone,
    team_limit,
)
from shopmate.picture import number, size
from shopmate.records import dataclass
from shopmate.units import Quantity
from shopmate.units import significant as sig

_NIOSH = Source("Revised NIOSH lifting equation, NIOSH 94-110 (a textbook's transcription): 23 kg, HM, VM, DM", "read")
_REST = Source("NIOSH 94-110: AM, frequency and coupling tables, limits of the multipliers, index 1 and 3", "memory")
_EXAMPLE = Source(
    "NIOSH 94-110, example 1: 23, 15 and 48 in, at 2.5 cm per inch as in its own forms, which round the multipliers", "memory"
)
_OTHERS = Source("ISO 11228-1 reference masses: 25 kg for men and 20 kg for women aged 20 to 45", "memory")
_OURS = Source("When a penalty is big enough to mention: our choice, to keep the advice short", "common practice")

_OUT = "Out of reach"

_FAR = Threshold(FAR, "cm", _REST, _OUT, "hand_distance", "63 cm", "63.1 cm")
"""Distance of the hands beyond which the limit is 0."""

_KNUCKLES = 75.0
"""Best height of the hands in cm: NIOSH 94-110 [read]. No Threshold needed: VM peaks there, and the grip table changes column."""

_HIGH = Threshold(175.0, "cm", _REST, _OUT, "start_height", "175 cm", "175.1 cm", beside={"travel": "0 cm"})
"""Height of the hands above which the limit is 0."""

_SHORT = 25.0
"""Travel in cm up to which DM stays 1: NIOSH 94-110 [memory]. No Threshold needed: DM reaches 1 without a jump."""

_LONG = Threshold(175.0, "cm", _REST, _OUT, "travel", "175 cm", "175.1 cm", beside={"start_height": "0 cm", "placing": "let go"})
"""Travel above which the limit is 0."""

_TWIST = Threshold(135.0, "°", _REST, _OUT, "twist", "135°", "135.1°")
"""Twist above which the limit is 0."""

_GRIPS: Mapping[str, tuple[float, float]] = {"good": (1.0, 1.0), "fair": (0.95, 1.0), "poor": (0.90, 0.90)}
"""Coupling multiplier by grip, with the hands below 75 cm, and at 75 cm or higher: NIOSH 94-110 table 7 [memory]."""

_RATES = (0.2, 0.5, 1.0, 2.0, 3.0, 4.0, 5.0, 6.0, 7.0, 8.0, 9.0, 10.0, 11.0, 12.0, 13.0, 14.0, 15.0)
"""Lifts per minute in the table of frequency multipliers; faster than that the limit is 0: NIOSH 94-110 table 5 [memory]."""

_FREQUENCY: Mapping[str, tuple[float, ...]] = {
    "up to 1 h": (1.0, 0.97, 0.94, 0.91, 0.88, 0.84, 0.80, 0.75, 0.70, 0.60, 0.52, 0.45, 0.41, 0.37, 0.34, 0.31, 0.28),
    "1 to 2 h": (0.95, 0.92, 0.88, 0.84, 0.79, 0.72, 0.60, 0.50, 0.42, 0.35, 0.30, 0.26, 0.23, 0.21),
    "2 to 8 h": (0.85, 0.81, 0.75, 0.65, 0.55, 0.45, 0.35, 0.27, 0.22, 0.18, 0.15, 0.13),
}
"""Frequency multiplier at each of those rates by the time spent lifting, 0 beyond the last: NIOSH 94-110 table 5 [memory; the
first line read in a transcription, and 0.13 at 10 per minute on another institute's page]."""

_STOOPED: Mapping[str, float] = {"up to 1 h": 12.0, "1 to 2 h": 10.0, "2 to 8 h": 8.0}
"""Lifts per minute above which the table has 0 with the hands below 75 cm: NIOSH 94-110 table 5 [memory]. No Threshold needed:
they are rows of that table."""

_HARD = Threshold(3.0, "", _REST, "Do not lift it like this", "index", "37.28 kg", "37.29 kg", "mass")
"""Lifting index above which most people are at risk; above 1 some are."""

_COSTS = Threshold(
    0.95, "", _OURS, "Biggest penalty", "", "26.3 cm", "26.4 cm", "hand_distance",
    {"mass": "40 kg", "travel": "0 cm", "grip": "good"},
)  # fmt: skip
"""Multiplier below which that part of the lift is worth changing."""

_MEN = Threshold(25.0, "kg", _OTHERS, "25 kg for men", "mass", "25 kg", "25.1 kg")
_WOMEN = Threshold(20.0, "kg", _OTHERS, "Above the reference mass", "mass", "20 kg", "20.1 kg")
"""Reference masses of ISO 11228-1 for ages 20 to 45; lower for others."""

_OPPOSITE, _SAME = "opposite edges", "same side"
"""Where several people stand."""

_CAREFUL, _DROPPED = "with care", "let go"
"""How the load is set down: with care means that the end of the lift counts too (NIOSH 94-110 section 1.1 [memory])."""


def _vertical(height: float) -> float:
    """Return VM for hands `height` cm above the floor: 1 − 0.003 |V − 75|."""
    return 0.0 if height > _HIGH.value else 1 - 0.003 * abs(height - _KNUCKLES)


def _distance(travel: float) -> float:
    """Return DM for a travel in cm, up or down: 0.82 + 4.5/D."""
    return 0.0 if abs(travel) > _LONG.value else 0.82 + 4.5 / max(_SHORT, abs(travel))


def _asymmetric(twist: float) -> float:
    """Return AM for a load `twist` degrees to the side: 1 − 0.0032 A."""
    return 0.0 if twist > _TWIST.value else 1 - 0.0032 * twist


def _coupling(grip: str | Quantity, height: float) -> float:
    """Return CM for a grip with the hands `height` cm above the floor."""
    if isinstance(grip, Quantity):
        return grip.value_in("")
    return _GRIPS[grip][height >= _KNUCKLES]


def _counted(rate: float) -> float | None:
    """Return the table's rate for a number of lifts per minute, rounded up, the safe side; None beyond the table."""
    return next((step for step in _RATES if rate <= step), None)


def _frequency(rate: float, duration: str, height: float) -> float:
    """Return FM for a rate in lifts per minute with the hands `height` cm above the floor."""
    step = _counted(rate)
    if step is None or (height < _KNUCKLES and step > _STOOPED[duration]):
        return 0.0
    return dict(zip(_RATES, _FREQUENCY[duration], strict=False)).get(step, 0.0)


def _line(rate: float) -> str:
    """Return in words which line of the frequency table is used."""
    step = _counted(rate)
    if step is None:
        return f"{rate:g} per minute is beyond the table, which ends at {_RATES[-1]:g}"
    return f"table: {step:g} per minute" + ("" if step == rate else f", the next line up from {rate:g}")


@dataclass(frozen=True, slots=True)
class _Way:
    """One lift in the terms of the NIOSH equation: height and travel in cm, twist in degrees."""

    start: float
    travel: float
    twist: float
    grip: str | Quantity
    is_careful: bool
    rate: float
    duration: str

    @property
    def ends(self) -> Mapping[str, float]:
        """Height of the hands at start and end, cm."""
        return {"start": self.start, "end": self.start + self.travel}

    @property
    def lowest(self) -> float:
        return min(self.ends.values())

    def factors(self, reach: float) -> Mapping[str, float]:
        """Return the multipliers that start and end share, with the hands `reach` cm in front of the ankles."""
        return {
            "HM": horizontal(reach),
            "DM": _distance(self.travel),
            "AM": _asymmetric(self.twist),
            # At the lower end, since the table ends sooner for stooping.
            "FM": _frequency(self.rate, self.duration, self.lowest),
        }

    def limits(self, reach: float) -> Mapping[str, float]:
        """Return what one person may lift at the start and at the end, kg."""
        common = LOAD_CONSTANT * math.prod(self.factors(reach).values())
        return {name: common * _vertical(height) * _coupling(self.grip, height) for name, height in self.ends.items()}

    def limit(self, reach: float) -> float:
        """Return what one person may lift, kg: at the start, or at the end if less and the load is set down with care."""
        limits = self.limits(reach)
        return min(limits.values()) if self.is_careful else limits["start"]

    def counted(self, reach: float) -> str:
        """Return whether the limit comes from the start or the end."""
        return next(name for name, limit in self.limits(reach).items() if limit == self.limit(reach))


@dataclass(frozen=True, slots=True)
class _Crew:
    """Who lifts, and what each person may lift in kg."""

    own: tuple[float, ...]
    """Each person's limit; empty where not known."""
    alone: float | None = None
    """What one person may lift without help; alone, a wide panel keeps the hands farther away."""
    each: float | None = None
    """What each of several people may lift."""
    way: _Way | None = None
    reach: float | None = None
    is_measured: bool = False
    """Whether the reach was entered, so that it can be shortened, rather than worked out from a panel."""

    @property
    def limit(self) -> float | None:
        """What they may lift together, kg."""
        return team_limit(self.own) if self.own else None


def _compute(**fields: Value | None) -> Answer:
    refuse(*_problems(fields), *_beam_problems(fields))
    people, mass = _people(fields), in_unit(size(fields, "mass"), "kg")
    refuse(*_floor(fields))
    crew, found = _limited(fields) if _has_limits(fields) else _by_equation(fields)
    shares, shared = _shares(fields, mass)
    limit = crew.limit
    index = _index(mass, limit, shares, crew.own)
    needed = fewest(mass, crew.alone, crew.each) if mass and crew.alone is not None and crew.each is not None else None
    best = _best(crew, needed)
    near = _near_enough(index, crew)
    verdict = _verdict(people, limit, index)
    values = {
        "limit": limit,
        "verdict": verdict,
        "index": index,
        "people_needed": None if needed is None else float(needed),
        "needed_limit": best,
        "share_a": shares[0] if shares else None,
        "share_b": shares[1] if shares else None,
        "limit_each": crew.own[0] if len(set(crew.own)) == 1 else None,
        "reach": crew.reach,
        "near_enough": near,
    }
    cautions = _cautions(people, mass, crew, index, shares, (near, needed, best))
    judged = Answer(values, (*_together(crew), *_judged(mass, limit, index, verdict)), cautions)
    return joined(found, shared, judged)


def _best(crew: _Crew, needed: int | None) -> float | None:
    """Return the limit in kg of the team needed, or of the largest team where none is enough; None if not known."""
    if crew.alone is None or crew.each is None:
        return None
    return crew.alone if needed == 1 else team_limit([crew.each] * (needed or max(TEAM_FACTORS)))


def _people(fields: Mapping[str, Value | None]) -> int:
    people = fields["people"]
    assert isinstance(people, int)
    return people


def _has_limits(fields: Mapping[str, Value | None]) -> bool:
    """Return whether a person's own limit is entered."""
    return any(fields[name] is not None for name in ("limit_each", "limit_a", "limit_b"))


def _are_opposite(fields: Mapping[str, Value | None]) -> bool:
    """Return whether the people stand at opposite edges, the default for several."""
    return _people(fields) > 1 and fields["positions"] != _SAME


def _problems(fields: Mapping[str, Value | None]) -> list[FieldProblem]:
    """Return where the fields that set what each person may lift conflict."""
    people, pair = _people(fields), {name: fields[name] for name in ("limit_a", "limit_b")}
    equation = {name: fields[name] for name in ("hand_distance", "start_height", "travel", "grip", "coupling")}
    problems = together(pair, "missing", "enter the limits of both A and B, or neither")
    if fields["limit_each"] is not None:
        problems += given(pair, "entered as well as a limit for each person", "leave one of the two blank")
    elif people != 2:
        problems += given(pair, "is for two people", "leave it blank, or set people to 2")
    if _has_limits(fields):
        problems += given(equation, "not used when a person's own limit is entered", "leave it blank, or leave the limits blank")
    elif any(value is not None for value in equation.values()) or fields["mass"] is None or people == 1:
        problems += _wanting(fields)
    if fields["grip"] is not None:
        problems += given({"coupling": fields["coupling"]}, "entered as well as the grip", "leave one of the two blank")
    return problems


def _wanting(fields: Mapping[str, Value | None]) -> list[FieldProblem]:
    """Return a problem for each field that the equation needs and that is blank."""
    problems = missing({name: fields[name] for name in ("start_height", "travel")}, "missing", "enter it in cm or inches")
    if not _are_opposite(fields) and fields["panel_width"] is None:
        fix = "measure from the ankles to the hands, or, for a panel held flat, enter its width"
        problems += missing({"hand_distance": fields["hand_distance"]}, "missing", fix)
    return problems


def _beam_problems(fields: Mapping[str, Value | None]) -> list[FieldProblem]:
    """Return the problems with where the people stand and where the middle of the load is."""
    people, offset, width = _people(fields), size(fields, "offset"), size(fields, "panel_width")
    problems = []
    if people == 1 and fields["positions"] == _OPPOSITE:
        problems.append(FieldProblem("positions", "one person can't be at opposite edges", "leave it blank, or set people to 2"))
    if offset is None:
        return problems
    if people != 2 or not _are_opposite(fields):
        return [*problems, FieldProblem("offset", "is for two people at opposite edges", "leave it blank, or set people to 2")]
    problems += missing({"panel_width": width}, "missing", "enter the distance between the two people's hands")
    if width is not None and abs(offset.value_in("mm")) > width.value_in("mm") / 2 * (1 + NOISE):
        problems.append(FieldProblem("offset", "puts the middle of the load outside the panel", "enter half the width or less"))
    return problems


def _floor(fields: Mapping[str, Value | None]) -> list[FieldProblem]:
    """Return a problem where the lift would end below the floor."""
    start, lifted = number(fields, "start_height", "cm"), number(fields, "travel", "cm")
    if start + lifted >= 0:
        return []
    what = f"moving {-lifted:.1f} cm down from a height of {start:.1f} cm ends below the floor"
    return [FieldProblem("travel", what, "enter how far the hands actually move down")]


def _limited(fields: Mapping[str, Value | None]) -> tuple[_Crew, Answer]:
    """Return who lifts, where their own limits are entered."""
    nothing = Answer(dict.fromkeys(("limit_start", "limit_end", "end_height")))
    each = in_unit(size(fields, "limit_each"), "kg")
    if each is not None:
        return _Crew((each,) * _people(fields), each, each), nothing
    return _Crew((number(fields, "limit_a", "kg"), number(fields, "limit_b", "kg"))), nothing


def _by_equation(fields: Mapping[str, Value | None]) -> tuple[_Crew, Answer]:
    """Return who lifts, with each limit from the equation, and the working; nothing where no height is entered."""
    if fields["start_height"] is None:
        return _Crew(()), Answer(dict.fromkeys(("limit_start", "limit_end", "end_height")))
    way = _way(fields)
    reach, lines = _reach(fields, way)
    depth = in_unit(size(fields, "panel_width"), "cm")
    alone, each = reach, reach
    if size(fields, "hand_distance") is None and depth is not None:
        alone, each = reach_alone(depth, way.lowest)[0], AT_AN_EDGE
    limits = way.limits(reach)
    values = {"limit_start": limits["start"], "limit_end": limits["end"], "end_height": way.ends["end"]}
    own = (way.limit(reach),) * _people(fields)
    crew = _Crew(own, way.limit(alone), way.limit(each), way, reach, size(fields, "hand_distance") is not None)
    return crew, Answer(values, (*lines, *_written(way, reach)))


def _way(fields: Mapping[str, Value | None]) -> _Way:
    grip = fields["grip"] or fields["coupling"] or Quantity(BARE_EDGE, "")
    assert isinstance(grip, str | Quantity)
    return _Way(
        number(fields, "start_height", "cm"),
        number(fields, "travel", "cm"),
        number(fields, "twist", "°"),
        grip,
        fields["placing"] == _CAREFUL,
        number(fields, "rate", ""),
        str(fields["duration"]),
    )


def _reach(fields: Mapping[str, Value | None], way: _Way) -> tuple[float, tuple[str, ...]]:
    """Return how far in front of the ankles the hands are, cm, with the working for a panel."""
    told, depth = in_unit(size(fields, "hand_distance"), "cm"), in_unit(size(fields, "panel_width"), "cm")
    if told is not None:
        return told, ()
    if _are_opposite(fields) or depth is None:
        return AT_AN_EDGE, (f"hands {AT_AN_EDGE:.0f} cm in front of the ankles: at opposite edges, whatever the width",)
    reach, body = reach_alone(depth, way.lowest)
    line = f"hands in front of the ankles = {body:.0f} + width / 2 = {body:.0f} + {sig(depth, 5)} / 2 = {reach:.1f} cm"
    return reach, (line,)


def _written(way: _Way, reach: float) -> tuple[str, ...]:
    """Return the equation with its numbers put in, for one person."""
    factors, limits, counted = way.factors(reach), way.limits(reach), way.counted(reach)
    basis = (
        f"the lower one, at the {counted}, because the load is set down with care"
        if way.is_careful
        else "the limit at the start, because the load is let go at the end"
    )
    return (
        f"HM = 25/H = {factors['HM']:.3f} at {reach:.1f} cm (1 up to {NEAR:.0f} cm, 0 above {FAR:.0f} cm)",
        f"DM = 0.82 + 4.5/D = {factors['DM']:.3f} for {abs(way.travel):.1f} cm "
        f"(1 up to {_SHORT:.0f} cm, 0 above {_LONG.value:.0f} cm)",
        f"AM = 1 − 0.0032 A = {factors['AM']:.3f} for {way.twist:.0f}° (0 above {_TWIST.value:.0f}°)",
        f"FM = {factors['FM']:.2f} ({_line(way.rate)}, {way.duration})",
        *(
            f"{name}: VM = 1 − 0.003 |V − 75| = {_vertical(height):.3f} at {height:.1f} cm, "
            f"CM = {_coupling(way.grip, height):.2f}, limit = 23 kg × HM × VM × DM × AM × FM × CM = {limits[name]:.2f} kg"
            for name, height in way.ends.items()
        ),
        f"one person's limit = {limits[counted]:.2f} kg, {basis}",
    )


def _together(crew: _Crew) -> tuple[str, ...]:
    """Return the working line for a team's limit."""
    people = len(crew.own)
    if people == 1 or crew.limit is None:
        return ()
    part = {2: "2/3", 3: "1/2", 4: "1/2"}[people]
    return (f"limit = {part} × ({' + '.join(f'{own:.2f}' for own in crew.own)}) = {crew.limit:.2f} kg together",)


def _shares(fields: Mapping[str, Value | None], mass: float | None) -> tuple[tuple[float, float] | None, Answer]:
    """Return what each of two people carries in kg."""
    if _people(fields) != 2 or mass is None:
        return None, Answer({})
    width, offset = in_unit(size(fields, "panel_width"), "mm"), in_unit(size(fields, "offset"), "mm")
    if width is None or offset is None:
        return (mass / 2, mass / 2), Answer({}, (f"each carries {sig(mass, 5)} / 2 = {sig(mass / 2)} kg",))
    lean = offset / width
    shares = mass * (1 / 2 - lean), mass * (1 / 2 + lean)
    lines = (
        f"A carries mass × (1/2 − offset / width) = {sig(mass, 5)} × (1/2 − {sig(offset, 5)} / {sig(width, 5)}) "
        f"= {sig(shares[0])} kg",
        f"B carries what is left = {sig(mass, 5)} − {sig(shares[0])} = {sig(shares[1])} kg",
    )
    return shares, Answer({}, lines)


def _index(mass: float | None, limit: float | None, shares: tuple[float, float] | None, own: Sequence[float]) -> float | None:
    """Return the lifting index: load ÷ limit, or one person's share ÷ their own limit if that is more."""
    if mass is None or not limit or not all(own):
        return None
    return max(mass / limit, *(share / may for share, may in zip(shares or (), own, strict=False)), 0.0)


def _near_enough(index: float | None, crew: _Crew) -> int | None:
    """Return the reach in cm, rounded down, that brings the index down to 1; None where none does."""
    if index is None or crew.reach is None or not crew.is_measured:
        return None
    # The limit is proportional to HM, so to 1/distance; below 25 cm it stays the same.
    near = NEAR / (index * horizontal(crew.reach))
    return math.floor(near * (1 + NOISE)) if near >= NEAR else None


def _judged(mass: float | None, limit: float | None, index: float | None, verdict: str | None) -> tuple[str, ...]:
    if mass is None or limit is None:
        return ()
    of = "none, because the limit is 0" if index is None else f"{index:.2f}"
    line = f"index = mass/limit, or one person's share ÷ their own limit if higher: {sig(mass, 4)}/{limit:.2f} → {of}: {verdict}"
    return (line,)


def _verdict(people: int, limit: float | None, index: float | None) -> str | None:
    """Return the verdict, by NIOSH's steps of the lifting index, 1 and 3; None where it can't be worked out."""
    if people not in TEAM_FACTORS:
        return "refuse"
    if limit == 0 or (index is not None and index > _HARD.value):
        return "do not lift"
    return None if index is None else "ok" if index <= 1 else "over"


_WORDS = {2: "two people", 3: "three people", 4: "four people (limit as for three: no team factor is published for four)"}
"""What a team of each size is called (our choice)."""


def _cautions(
    people: int,
    mass: float | None,
    crew: _Crew,
    index: float | None,
    shares: tuple[float, float] | None,
    ways: tuple[int | None, int | None, float | None],
) -> tuple[str, ...]:
    """Return the cautions; `ways` are the reach that brings the index to 1, the people needed and their limit."""
    if people not in TEAM_FACTORS:
        return (
            f"No team factor is published for {people} people, and teams of more than four rarely work. Instead, {OTHER_WAYS}.",
        )
    said = (
        [] if crew.own else ["To get a limit, enter the height of the hands and how far up, or what each person may lift alone."]
    )
    if crew.limit == 0:
        said.append(_out_of_reach(people, ways))
    elif index is not None and index > 1:
        said.append(
            "More than three times the limit: most people risk a back injury. Do not lift it like this."
            if index > _HARD.value
            else "Above the limit: the risk of a back injury rises. Change the lift, don't try harder."
        )
        said += [*_heavy_end(mass, crew, shares), _enough(people, ways), *_costliest(crew)]
    if people == max(TEAM_FACTORS):
        said.append("No team factor is published for four people: the limit shown is for three. A hoist is safer.")
    if mass is not None:
        said += _reference(max(shares) if shares else mass / people)
    if people > 1:
        said.append(
            "One person gives the commands. Lift at the same height, in gloves and dry shoes, along a clear path. On stairs or a "
            "slope the lower person carries most of the weight. Wind on a panel is not included."
        )
    said += _at_the_end(crew)
    if crew.way is not None:
        said.append(
            "The limit is for smooth two-handed lifts, standing on firm ground. With one hand, kneeling, on a ladder, in wind or "
            "with a bad back the limit is lower: ask a doctor or an ergonomist. Local rules come first."
        )
    return tuple(said)


def _at_the_end(crew: _Crew) -> tuple[str, ...]:
    """Return a caution if less may be lifted at the end of the lift than at its start, and the end was not entered."""
    if crew.way is None or crew.reach is None or crew.way.is_careful:
        return ()
    limits = crew.way.limits(crew.reach)
    if limits["end"] >= limits["start"] * (1 - NOISE):
        return ()
    end = f"one person may lift only {limits['end']:.1f} kg" if limits["end"] else "nothing may be lifted"
    return (f"If you set the load into place with care, as you do a panel, choose 'with care': at the end {end}.",)


def _out_of_reach(people: int, ways: tuple[int | None, int | None, float | None]) -> str:
    """Return why nothing at all may be lifted this way, and what to do instead."""
    _, needed, limit = ways
    team = ""
    if needed is not None and limit is not None and needed > people:
        team = f"lift it with {_WORDS[needed]} at opposite edges, who may lift {limit:.1f} kg, or "
    return (
        f"{_OUT}: nothing may be lifted with the hands more than 63 cm in front of the ankles or above 175 cm, a travel of "
        "more than 175 cm up or down, more than 135° of twist, or more than 15 times per minute (8 when stooping all day). Bring "
        f"the load closer or lower, lift in stages, turn your feet; {team}{OTHER_WAYS}."
    )


def _heavy_end(mass: float | None, crew: _Crew, shares: tuple[float, float] | None) -> tuple[str, ...]:
    """Return who carries more than their own limit although the team as a whole does not."""
    if shares is None or mass is None or crew.limit is None:
        return ()
    over = [
        f"{name} carries {share:.1f} kg but may lift only {own:.1f} kg"
        for name, share, own in zip("AB", shares, crew.own, strict=True)
        if share / own > max(1.0, mass / crew.limit)
    ]
    return (f"{over[0]}. Move your grips until the middle of the load is midway between you.",) if over else ()


def _enough(people: int, ways: tuple[int | None, int | None, float | None]) -> str:
    """Return what brings this lift within the limit."""
    near, needed, limit = ways
    found = [f"hold it with the hands no more than {near} cm in front of the ankles"] if near is not None else []
    if needed is not None and limit is not None and needed > people:
        found.append(f"lift it with {_WORDS[needed]}, who may lift {limit:.1f} kg together")
    few = "No team of up to four people is enough. " if needed is None and limit is not None else ""
    return f"{few}What works: {', or '.join([*found, OTHER_WAYS])}."


def _costliest(crew: _Crew) -> tuple[str, ...]:
    """Return the part of the lift with the biggest penalty and what to change about it; nothing where all are small."""
    if crew.way is None or crew.reach is None:
        return ()
    advice = {
        "HM": "reach, {}: clear the way so that you can stand close",
        "VM": "height, {}: start and end near 75 cm, on trestles or a table",
        "DM": "travel, {}: set the load down half-way",
        "AM": "twist, {}: turn your feet, not your back",
        "FM": "pace, {}: pause between lifts",
    }
    height = crew.way.ends[crew.way.counted(crew.reach)]
    costs = {**crew.way.factors(crew.reach), "VM": _vertical(height)}
    if not crew.is_measured:
        del costs["HM"]
    worst = min(costs, key=lambda name: costs[name])
    return (f"Biggest penalty: {advice[worst].format(f'{worst} {costs[worst]:.2f}')}.",) if costs[worst] < _COSTS.value else ()


def _reference(share: float) -> tuple[str, ...]:
    """Return a caution where one person carries more than a reference mass; `share` in kg."""
    if share <= _WOMEN.value:
        return ()
    women = f"{_WOMEN.value:g} kg for women"
    heavier = f"{_MEN.value:g} kg for men and {women}" if share > _MEN.value else women
    return (
        f"Above the reference mass of ISO 11228-1: {heavier} aged 20 to 45, less for others (from memory: check the standard).",
    )


CALCULATOR = Calculator(
    name="lift", title="Lifting by hand: limit for one person or a team",
    inputs=(
        Field("mass", "Weight of the load", Measure("kg", above=0, high=1000, soft_high=150), "Blank: you get the limit only."),
        Field("people", "People", Count(1, 20), default="1"),
        Field("start_height", "Height of the hands", Measure("cm", low=0, high=300, soft_high=175),
            "Above the floor, at the start of the lift."),
        Field("travel", "How far up", Measure("cm", low=-300, high=300, soft_low=-175, soft_high=175),
            "How far the hands move up; negative for down."),
        Field("hand_distance", "Hands in front of the ankles", Measure("cm", above=0, high=200, soft_low=20, soft_high=63),
            "Measured level, middle of the ankles to middle of the hands. Leave blank for a panel: it is worked out from the "
            "width."),
        Field("panel_width", "Width of the panel", Measure("mm", low=100, high=6000),
            "Held flat, measured from the edge in your hands to the far edge."),
        Field("positions", "People stand at", Choice((_OPPOSITE, _SAME)), "Blank: two or more stand at opposite edges."),
        Field("offset", "Load off centre, towards B", Measure("mm", low=-3000, high=3000),
            "From midway between the two people. Negative: towards A."),
        Field("limit_each", "Each person may lift alone", Measure("kg", above=0, high=100, soft_high=25),
            "Enter it if you know it; then leave heights and distances blank."),
        Field("limit_a", "A may lift alone", Measure("kg", above=0, high=100, soft_high=25),
            "For two people of different strength; enter B's too."),
        Field("limit_b", "B may lift alone", Measure("kg", above=0, high=100, soft_high=25)),
        Field("twist", "Twist", Measure("°", low=0, high=180, soft_high=90), "How far to the side of your feet the load is.",
            default="0°"),
        Field("grip", "Grip", Either(Choice(tuple(_GRIPS)), Measure("", low=0.9, high=1)),
            "good: handles; fair: fingers bent square under the edge; poor: sharp, slippery or sagging. Blank: 0.95."),
        Field("coupling", "Coupling multiplier", Measure("", low=0.9, high=1), "In place of the grip: 0.90 to 1."),
        Field("placing", "Set down", Choice((_CAREFUL, _DROPPED)),
            "With care, as when you set a panel into place: then the end of the lift counts too.", default=_DROPPED),
        Field("rate", "Lifts per minute", Measure("", above=0, high=60, soft_high=15), "0.2 is one lift every five minutes.",
            default="0.2"),
        Field("duration", "Time spent lifting", Choice(tuple(_FREQUENCY)), "Over the day, breaks included.",
            default="up to 1 h"),
    ),
    outputs=(
        Output("limit", "Limit, all together", "kg"),
        Output("verdict", "Verdict"),
        Output("index", "Lifting index", "", 2),
        Output("people_needed", "People needed", "", 0),
        Output("share_a", "A carries", "kg"),
        Output("share_b", "B carries", "kg"),
        Output("reach", "Hands in front of the ankles", "cm"),
        Output("limit_each", "One person's limit", "kg"),
        Output("needed_limit", "Limit for the team needed (or for four)", "kg"),
        Output("near_enough", "Maximum reach within the limit", "cm", 0),
        Output("limit_start", "One person's limit at the start", "kg"),
        Output("limit_end", "One person's limit at the end", "kg"),
        Output("end_height", "Height of the hands at the end", "cm"),
    ),
    source=(_NIOSH, _REST, TEAM_SOURCE, REACH_SOURCE, EDGES_SOURCE, _OTHERS, _OURS),
    valid="For the lifts the NIOSH equation covers: smooth lifts with both hands, standing on firm ground, at 19 to 26 °C, with "
    "a load that does not shift. Hands up to 63 cm in front of the ankles and 175 cm high, travel up to 175 cm, twist up to "
    "135°, 15 lifts per minute (8 with the hands below 75 cm all day): beyond that the limit is 0 and there is no index. NIOSH's "
    "inch form, with 10 in for 25 cm and 51 lb for 23 kg, allows 2 % more.",
    examples=(
        Example({"mass": "10 kg", "hand_distance": "40 cm", "start_height": "75 cm", "travel": "50 cm", "grip": "0.95"},
            {"limit_start": 12.427}, _NIOSH, rel=0.01),
        Example({"mass": "44 lb", "hand_distance": "57.5 cm", "start_height": "37.5 cm", "travel": "120 cm", "grip": "fair"},
            {"limit_start": 16.3 * 0.45359237, "limit_end": 14.5 * 0.45359237}, _EXAMPLE, rel=0.03),
        Example({"mass": "23 kg", "hand_distance": "25 cm", "start_height": "75 cm", "travel": "0 cm", "grip": "good"},
            {"limit": 23.0, "index": 1.0, "verdict": "ok"}, _NIOSH),
        Example({"mass": "30 kg", "people": "2", "panel_width": "1.2 m", "start_height": "75 cm", "travel": "25 cm"},
            {"limit": 24.278, "limit_each": 18.208, "share_a": 15.0, "share_b": 15.0, "index": 1.2357, "reach": 30.0,
            "verdict": "over", "people_needed": 4, "needed_limit": 36.417}, TEAM_SOURCE, rel=0.001),
        Example({"mass": "40 kg", "people": "2", "panel_width": "2 m", "offset": "300 mm", "limit_each": "25 kg"},
            {"share_a": 14.0, "share_b": 26.0, "limit": 33.333, "index": 1.2, "verdict": "over"}, TEAM_SOURCE, rel=0.001),
    ),
    asked=("mass", "people", "panel_width"),
    compute=_compute, thresholds=(_FAR, _HIGH, _LONG, _TWIST, _HARD, _COSTS, _MEN, _WOMEN),
)  # fmt: skip
