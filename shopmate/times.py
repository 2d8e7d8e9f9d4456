"""Times, lengths of time and clocks in words, as functions of `now`."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime, timedelta

from shopmate.clock import PRIORITIES, Clock, State, state
from shopmate.phrases import phrase

_DAYS = ("Mon", "Tue", "Wed", "Thu", "Fri", "Sat", "Sun")
_MONTHS = ("Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec")

_MOST_PLANNED = ((timedelta(minutes=10), 2), (timedelta(hours=1), 6))
"""Alarms that one person can serve: 2 in 10 min at the most, 1 in 10 min over the hour (EEMUA 191 as quoted by HSE, read)."""


def span(length: timedelta) -> str:
    """Return a length of time as minutes and seconds under 100 minutes, else as hours and minutes or days."""
    seconds = int(length.total_seconds())
    if seconds < 6000:
        return f"{seconds // 60}:{seconds % 60:02d}"
    if seconds < 100 * 3600:
        return f"{seconds // 3600}h{seconds % 3600 // 60:02d}"
    return f"{seconds // 86400}d{seconds % 86400 // 3600:02d}h"


def duration(length: timedelta) -> str:
    """Return a length of time in words, such as 2 h 05 min, in its two largest units."""
    seconds = round(length.total_seconds())
    if seconds < 100:
        return phrase("{seconds} s", seconds)
    minutes = round(seconds / 60)
    if minutes < 100:
        return phrase("{minutes} min", minutes)
    if minutes < 48 * 60:
        return phrase("{hours} h {minutes:02d} min", minutes // 60, minutes % 60)
    return phrase("{days} days {hours} h", minutes // 1440, minutes % 1440 // 60)


def in_words(length: timedelta) -> str:
    """Return a length of time to be heard, not seen, such as '14 min 7 s', '2 h 5 min' or '3 d 4 h'."""
    seconds = int(abs(length).total_seconds())
    if seconds < 3600:
        parts = ("{minutes} min", seconds // 60), ("{seconds} s", seconds % 60)
    elif seconds < 48 * 3600:
        parts = ("{hours} h", seconds // 3600), ("{minutes} min", seconds % 3600 // 60)
    else:
        parts = ("{days} d", seconds // 86400), ("{hours} h", seconds % 86400 // 3600)
    return " ".join(phrase(words, number) for words, number in parts if number) or phrase("{seconds} s", 0)


def ago(at: datetime, now: datetime) -> str:
    """Return how long ago `at` was, in the largest fitting unit."""
    minutes = max(0, int((now - at).total_seconds() // 60))
    if minutes < 1:
        return phrase("just now")
    if minutes < 100:
        return phrase("{minutes} min ago", minutes)
    return phrase("{hours} h ago", minutes // 60) if minutes < 48 * 60 else phrase("{days} days ago", minutes // 1440)


def wall(at: datetime, now: datetime) -> str:
    """Return the wall-clock time of `at`, with the day when it is not that of `now` (both in local time)."""
    local, today = at.astimezone(), now.astimezone()
    clock_time = f"{local:%H:%M}"
    return clock_time if local.date() == today.date() else f"{weekday(local)} {day_of_month(local)} {clock_time}"


# Not %a and %b: the names of the system's language need not be those of the words around them.


def weekday(at: datetime) -> str:
    """Return the day of the week in short."""
    return phrase(_DAYS[at.weekday()])


def day_of_month(at: datetime) -> str:
    """Return the day of the month with the month in short, such as 25 Nov."""
    return f"{at:%d} {phrase(_MONTHS[at.month - 1])}"


def face(clock: Clock, now: datetime) -> str:
    """Return the time left, such as 14:07 or 2h05, counting up with a plus sign when it is over."""
    seconds = (clock.due_at - now).total_seconds()
    if seconds < 0:
        return "+" + span(timedelta(seconds=-seconds))
    return span(timedelta(seconds=-(-seconds // 1)))


def line(clock: Clock, now: datetime) -> str:
    """Return how a clock stands in words: title, kind and limit, time left or over, state."""
    due = wall(clock.due_at, now)
    if clock.moved_from is not None:
        due = phrase("{at} (was {before}: shop at {celsius})", due, wall(clock.moved_from, now), clock.moved_by)
    left = clock.due_at - now
    time = phrase("{time} over" if left < timedelta() else "{time} left", in_words(left))
    return f"{clock.whole_title}: {phrase(clock.kind)} {due}, {time}, {state(clock, now).word}"


def alarm_text(clock: Clock, now: datetime) -> str:
    """Return the alarm line: priority word, clock, time left or over, what to do, due time."""
    reached = state(clock, now)
    word = PRIORITIES[clock.priority].word
    if word == "LATER" and not clock.closes:
        word = "READY"
    due = wall(clock.due_at, now)
    if reached is State.MISSED:
        return phrase("MISSED {at}, {ago} · {clock} · {if_late}", due, ago(clock.due_at, now), clock.whole_title, clock.if_late)
    return f"{phrase(word)} · {clock.whole_title} {face(clock, now)} · {clock.action} · {phrase(clock.kind)} {due}"


def crowd(clocks: Iterable[Clock], now: datetime) -> str:
    """Return when more alarms are to come than one person can serve, in words for planning; '' where they are not."""
    times = sorted(
        at for clock in clocks if clock.ended_at is None for at in (clock.warns_at, clock.due_at) if at is not None and at >= now
    )
    for length, most in _MOST_PLANNED:
        for first in times:
            together = sum(first <= at < first + length for at in times)
            if together > most:
                within = phrase("{minutes} min", length // timedelta(minutes=1))
                return phrase(
                    "{count} alarms within {time} from {at}: more than {most} are hard to handle alone.",
                    together,
                    within,
                    wall(first, now),
                    most,
                )
    return ""
