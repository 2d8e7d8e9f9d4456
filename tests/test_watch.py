"""What a look at the time and a key bring, without any face: a clock that is set, alarms, sound, pause, notices, who records."""

from dataclasses import replace
from datetime import timedelta

import pytest
from conftest import BEGAN, materials
from test_awake import Child

from shopmate import times
from shopmate.awake import Awake
from shopmate.dialogue.asking import Say
from shopmate.dialogue.notices import KINDS, Notices, Rank
from shopmate.dialogue.watch import Watch
from shopmate.errors import LogError
from shopmate.project.events.clocks import ClockStarted, Limit
from shopmate.session import NotNow, Session
from shopmate.settings import Settings
from shopmate.steady import Steady

UNTESTED = "SOUND NOT TESTED: here"


class Sounder:
    """Rings nothing, and remembers what it was to ring."""

    untested = UNTESTED

    def __init__(self, *, has_bell=True):
        self.has_bell = has_bell
        self.did = []
        self.commands = []
        """What stands for a command that runs: called with why it failed, it has ended."""

    def ring(self, rhythm):
        self.did.append(rhythm.bells)

    def hush(self):
        self.did.append("hush")

    def shift(self, by):
        self.did.append(by)

    def call(self, command, words, ended):
        self.did.append((*command, words.partition(" · Check")[0]))
        self.commands.append(ended)

    def send_notification(self, words):
        self.did.append(("notification", words.partition(" · Check")[0]))


class Bench:
    """A watch on a project, the time it is told, and what it came upon."""

    def __init__(self, session, now, *, heard=True, has_bell=True, awake=None, **settings):
        self.session, self.now, self.ahead, self.began = session, now, timedelta(), BEGAN
        self.sounder, self.settings = Sounder(has_bell=has_bell), Settings(**settings)
        self.changes = []
        notices = Notices(lambda name, words: self.changes.append((name, words)))
        self.watch = Watch(self.sounder, notices, lambda: self.settings, self.steady, awake)
        self.watch.heard = heard
        self.watch.begin(session, now())

    def steady(self):
        return Steady("boot 1", 100 + (self.now() - self.began - self.ahead).total_seconds())

    def set_wall(self, **ahead):
        self.ahead += timedelta(**ahead)
        self.now.on(**ahead)

    def look(self, **on):
        """What a look brings after so much time, and all that was rung at it."""
        self.sounder.did.clear()
        return self.watch.look(self.now.on(**on))

    def calls(self, **on):
        self.look(**on)
        return [(call.clock.title, call.how) for call in self.watch.calls(self.now())]

    def draw(self):
        """Draw what stands whole for long enough to be read, as a face with room for all does."""
        notices = self.watch.notices
        for second in range(7):
            assert not notices.drawn(len(notices.words), 1, self.now.on(seconds=min(second, 1)))

    @property
    def stands(self):
        return self.watch.notices.words


@pytest.fixture
def opened(home, now):
    """Return a project of its own with clocks of so many minutes, opened anew with a steady clock."""
    made = []

    def make(*minutes, priority=1):
        session = Session.create(home / "time.shopmate", "Time", now(), materials(), steady=Steady("boot 1", 100.0))
        made.append(session)
        for number, length in enumerate(minutes, 1):
            session.start_clock(f"Kettle {number}", "NOT BEFORE", timedelta(minutes=length), now())
            if priority > 1:
                later = Limit("own", "Glue", "NOT BEFORE", 60.0 * length, "Look", "Late.", 900.0, "Late.")
                session._record(ClockStarted(clock=later, shown="Glue"), now())
                session.end_clock(session.clocks[-2].key, now())
        return session

    yield make
    for session in made:
        session.close()


# Alarms


def test_an_alarm_is_called_when_it_comes_and_each_minute_until_it_is_seen_and_then_reminded_of(opened, now):
    bench = Bench(opened(5), now)
    assert bench.calls(minutes=4, seconds=59) == []
    assert bench.calls(seconds=1) == [("Kettle 1", "new")]
    assert bench.calls(seconds=59) == []
    assert bench.calls(seconds=1) == [("Kettle 1", "waits")]
    assert bench.calls(seconds=60) == [("Kettle 1", "waits")]
    bench.watch.acknowledge(now())
    assert bench.calls(minutes=4, seconds=59) == []
    assert bench.calls(seconds=1) == [("Kettle 1", "reminder")]
    assert bench.calls(minutes=4) == []
    assert bench.calls(minutes=1) == [("Kettle 1", "reminder")]


@pytest.mark.parametrize("name", ["", "Heater"])
def test_a_clock_of_the_user_s_own_rings_before_it_is_due_and_when_it_is(opened, now, name):
    session = opened()
    session.start_own("20", now(), name)
    title = name or "Timer 1"
    bench = Bench(session, now, alarm_command=("say",))
    bench.look(minutes=15, seconds=59)
    assert bench.sounder.did == []
    bench.look(seconds=1)  # a fifth of its time before
    assert 5 in bench.sounder.did
    assert any(title in part for done in bench.sounder.did if isinstance(done, tuple) for part in done)
    now.on(seconds=1)
    bench.watch.acknowledge(now())
    bench.look(minutes=3, seconds=58)
    assert 5 not in bench.sounder.did
    bench.look(seconds=1)
    assert 5 in bench.sounder.did


def test_an_alarm_taken_back_from_seen_is_new_once_more(opened, now):
    bench = Bench(opened(5), now)
    bench.calls(minutes=5)
    now.on(seconds=1)
    bench.watch.acknowledge(now())
    assert bench.calls(seconds=1) == []
    bench.session.take_back(now())
    assert bench.calls(seconds=1) == [("Kettle 1", "new")]


def test_the_most_urgent_is_called_first(opened, now):
    bench = Bench(opened(5, 4), now)
    assert bench.calls(minutes=6) == [("Kettle 2", "new"), ("Kettle 1", "new")]
    assert [clock.title for clock in bench.watch.alarms(now())] == ["Kettle 2", "Kettle 1"]
    assert bench.watch.alarm_waits(now())


def test_a_look_records_what_has_come_due_and_so_does_what_is_about_to_be_drawn(opened, now):
    bench = Bench(opened(5, 6), now)
    bench.look(minutes=5)
    assert bench.session.clocks[0].raised == {"due": now()}
    assert bench.watch.record(now.on(minutes=1)) == ()
    assert bench.session.clocks[1].raised == {"due": now()}


def test_acknowledging_ends_the_burst_and_a_refusal_does_not(opened, now):
    bench = Bench(opened(5), now)
    bench.look(minutes=5)
    with pytest.raises(NotNow, match="NEW ALARM"):
        bench.watch.acknowledge(now())
    assert bench.sounder.did == [5]
    assert bench.watch.acknowledge(now.on(seconds=1)) == "SEEN Kettle 1"
    assert bench.sounder.did == [5, "hush"]
    with pytest.raises(NotNow, match="nothing to acknowledge"):
        bench.watch.acknowledge(now())


def test_on_a_disk_that_is_full_alarms_sound_and_are_silenced_and_are_recorded_once_there_is_room(opened, now, monkeypatch):
    bench = Bench(opened(5), now)
    count = len(bench.session.log.events())

    def full(*_, **__):
        raise LogError("full")

    with monkeypatch.context() as patch:
        patch.setattr(bench.session.log, "append", full)
        assert bench.look(minutes=5).words == ()
        assert bench.stands[0] == "READ ONLY: full"
        assert bench.sounder.did == [5]  # it sounds all the same
        assert bench.watch.acknowledge(now.on(seconds=1)) == "SEEN Kettle 1"
        assert bench.sounder.did == [5, "hush"]
        with pytest.raises(NotNow, match="READ ONLY: full"):
            bench.session.add_part("Panel 9", now())
        bench.set_wall(hours=1)
        found = bench.watch.key_came(now())
        assert (found.words, found.shift) == ((), timedelta(hours=1))
        assert len(bench.session.log.events()) == count
    assert bench.look(seconds=1).words == (Say("Recording again. What you acknowledged meanwhile is recorded too."),)
    assert [event.kind for event in bench.session.log.events()[count:]] == ["alarm", "acknowledged", "wall"]
    assert "READ ONLY: full" not in bench.stands
    assert bench.session.clocks[0].acknowledged


# Sound


@pytest.mark.parametrize(("priority", "bells", "every"), [(1, 5, 10), (2, 3, 30)])
def test_an_alarm_rings_in_the_rhythm_of_its_priority(opened, now, priority, bells, every):
    bench = Bench(opened(5, priority=priority), now)
    rung = []
    for second in range(5 * 60, 5 * 60 + every + 1):
        bench.look(seconds=1 if second > 5 * 60 else second)
        rung += [(second - 5 * 60, *bench.sounder.did)] if bench.sounder.did else []
    assert rung == [(0, bells), (every, bells)]


def test_the_command_runs_with_each_burst_but_not_twice_at_a_time(opened, now):
    bench = Bench(opened(5), now, alarm_command=("horn",))
    bench.look(minutes=5)
    assert bench.sounder.did == [5, ("horn", "NOW · Kettle 1 0:00")]
    bench.look(seconds=10)
    assert bench.sounder.did == [5]
    bench.sounder.commands.pop()("")
    bench.look(seconds=10)
    assert bench.sounder.did == [5, ("horn", "NOW · Kettle 1 +0:20")]


def test_a_command_that_fails_stands_as_a_notice_until_it_works(opened, now):
    bench = Bench(opened(5), now, alarm_command=("horn",))
    bench.look(minutes=5)
    bench.sounder.commands.pop()("horn was not found")
    assert bench.stands == ("COMMAND FAILED: horn was not found",)
    bench.look(seconds=10)
    bench.sounder.commands.pop()("")
    assert bench.stands == ()


def test_a_notification_is_sent_for_what_is_new_where_the_user_asks_for_it(opened, now):
    bench = Bench(opened(5, 6), now)
    bench.look(minutes=5)
    assert bench.sounder.did == [5]
    bench.settings = replace(bench.settings, notify=True)
    bench.look(seconds=10)
    assert bench.sounder.did == [5]
    bench.look(seconds=50)
    assert bench.sounder.did == [5, ("notification", "2 alarms: NOW · Kettle 1 +1:00")]


def test_the_sound_is_tried_at_the_start_and_what_is_not_tested_stands_until_it_is_answered(opened, now):
    bench = Bench(opened(5), now, heard=None, alarm_command=("horn",))
    assert bench.sounder.did == [3, ("horn", "Sound test")]
    assert bench.stands == (UNTESTED,)
    bench.watch.log_heard(True, now())
    assert bench.stands == ()
    assert bench.session.log.events()[-1].data["heard"] is True
    bench.watch.log_heard(False, now())
    assert bench.stands == ("NO BELL: only the alarm command sounds",)
    bench.sounder.did.clear()
    bench.watch.end()
    bench.watch.begin(bench.session, now())
    assert bench.sounder.did == ["hush"]  # it is tried once


def test_not_tested_stands_until_a_key_says_it_was_read_and_once_more_when_a_first_clock_runs(opened, now):
    bench = Bench(opened(), now, heard=None)
    bench.draw()
    bench.look(minutes=53)
    assert bench.stands == (UNTESTED,)
    bench.watch.key_came(now())
    bench.look(seconds=1)
    assert (bench.stands, bench.watch.against_alarms) == ((), ("SOUND NOT TESTED",))
    for stands in ((UNTESTED,), ()):
        bench.session.start_clock("Tea", "NOT BEFORE", timedelta(hours=9), now())
        bench.look(seconds=1)
        assert bench.stands == stands  # the second clock says it no more
        bench.draw()
        bench.watch.key_came(now())
        bench.look(seconds=1)
        assert bench.stands == ()
    bench.watch.log_heard(True, now())
    assert bench.watch.against_alarms == ()


def test_an_alarm_that_waits_at_the_start_sounds_instead_of_the_test(opened, now):
    session = opened(5)
    now.on(minutes=9)
    bench = Bench(session, now, heard=None)
    assert bench.sounder.did == []
    bench.look()
    assert bench.sounder.did == [5]
    assert bench.stands == (UNTESTED,)


def test_an_answer_that_cannot_be_recorded_holds_all_the_same(opened, now, monkeypatch):
    bench = Bench(opened(5), now, heard=None)

    def full(*_, **__):
        raise LogError("full")

    monkeypatch.setattr(bench.session.log, "append", full)
    with pytest.raises(LogError):
        bench.watch.log_heard(True, now())
    assert bench.stands == ()


@pytest.mark.parametrize(
    ("heard", "command", "fault", "says"),
    [
        (None, (), "", (UNTESTED,)),
        (True, (), "", ()),
        (False, (), "", ("NO SOUND: watch the screen. Turn the bell up, or set alarm_command",)),
        (False, ("horn",), "", ("NO BELL: only the alarm command sounds",)),
    ],
)
def test_a_silent_bell_stands_as_a_notice_with_what_rings_instead(opened, now, heard, command, fault, says):
    assert Bench(opened(), now, heard=heard, alarm_command=command).stands == says


def test_without_a_bell_nothing_is_tried_and_silence_is_said_only_of_a_command_that_fails(opened, now):
    bench = Bench(opened(5), now, heard=None, has_bell=False, alarm_command=("horn",))
    assert (bench.sounder.did, bench.stands) == ([], ())
    assert bench.watch.can_sound
    bench.look(minutes=5)
    bench.sounder.commands.pop()("horn was not found")
    assert bench.stands == ("NO SOUND: alarms are only printed", "COMMAND FAILED: horn was not found")
    bench.settings = Settings()
    assert not bench.watch.can_sound
    assert not bench.watch.may_pause(now())


# The pause


def test_a_pause_lasts_two_minutes_says_what_remains_and_a_new_alarm_ends_it(opened, now):
    bench = Bench(opened(5, 8.2), now)
    assert not bench.watch.may_pause(now())
    bench.look(minutes=5)
    assert bench.watch.may_pause(now())
    bench.sounder.did.clear()
    assert bench.watch.pause(now()) == "SOUND PAUSED 2:00; a new alarm still sounds."
    assert (bench.sounder.did, bench.stands) == (["hush"], ("SOUND PAUSED 2:00",))
    bench.look(seconds=37)
    assert (bench.sounder.did, bench.stands, bench.watch.paused(now())) == ([], ("SOUND PAUSED 1:23",), "1:23")
    bench.look(seconds=83)
    assert (bench.sounder.did, bench.stands, bench.watch.paused(now())) == ([5], (), "")
    bench.look(seconds=60)
    bench.watch.pause(now())
    bench.look(seconds=12)
    assert (bench.sounder.did, bench.stands) == ([5], ())


def test_a_pause_stands_before_what_stood_already(opened, now):
    bench = Bench(opened(5), now, heard=None)
    bench.look(minutes=5)
    bench.watch.pause(now())
    assert bench.stands == ("SOUND PAUSED 2:00", UNTESTED)


# The clock of the computer


@pytest.mark.parametrize(("hours", "way"), [(3, "forward"), (-3, "back")])
def test_a_clock_that_is_set_moves_all_that_is_timed_by_it(opened, now, hours, way):
    bench = Bench(opened(5), now)
    bench.calls(minutes=5)
    bench.watch.pause(now())
    bench.look(seconds=1)
    bench.set_wall(hours=hours)
    found = bench.look()
    assert found.shift == timedelta(hours=hours)
    assert bench.sounder.did == [timedelta(hours=hours)]
    assert times.face(bench.session.clocks[0], now()) == "+0:01"
    assert bench.stands[0].startswith(f"COMPUTER CLOCK SET {way} 3 h 00 min")
    assert bench.stands[1] == "SOUND PAUSED 1:59"
    assert bench.calls(seconds=58) == []
    assert bench.calls(seconds=1) == [("Kettle 1", "waits")]
    assert bench.look(seconds=1).shift == timedelta()


def test_a_key_looks_at_the_clock_before_it_acts(opened, now):
    bench = Bench(opened(5), now)
    bench.set_wall(hours=2)
    assert bench.watch.key_came(now()).shift == timedelta(hours=2)
    assert times.face(bench.session.clocks[0], now()) == "5:00"


def test_that_it_was_set_stands_for_ten_minutes_and_until_somebody_is_there(opened, now):
    bench = Bench(opened(), now)
    bench.set_wall(hours=2)
    bench.look()
    assert len(bench.stands) == 1
    bench.draw()
    bench.watch.key_came(now.on(minutes=9, seconds=53))
    bench.look()
    assert len(bench.stands) == 1
    bench.look(seconds=1)
    assert bench.stands == ()
    bench.set_wall(hours=-2)
    bench.look()
    bench.look(hours=1)
    bench.watch.key_came(now())
    assert len(bench.stands) == 1  # it was never drawn
    bench.draw()
    bench.look(hours=1)
    assert len(bench.stands) == 1  # nobody was there to see it
    bench.watch.key_came(now())
    assert bench.stands == ()


def test_that_it_was_set_lately_is_said_of_a_project_just_opened(opened, now):
    bench = Bench(opened(), now)
    bench.set_wall(hours=2)
    bench.look()
    session = bench.session
    for minutes, says in ((0, 1), (9.9, 1), (0.2, 0)):
        bench.watch.end()
        assert bench.stands == ()
        bench.watch.begin(session, now.on(minutes=minutes))
        assert len(bench.stands) == says


# The second window


def test_a_second_window_only_reads_follows_and_takes_over(opened, now):
    first = opened(5)
    second = Session.open(first.log.path, now(), materials(), Steady("boot 1", 100.0))
    bench = Bench(second, now, heard=None, awake=Awake(None), notify=True, alarm_command=("horn",))
    (reads,) = bench.stands
    assert reads.startswith("READ ONLY: another window has this project open; alarms sound there only")
    assert not bench.look(seconds=1).followed
    first.start_clock("Tea", "NOT BEFORE", timedelta(minutes=1), now())
    found = bench.look(seconds=1)
    assert (found.followed, found.took_over) == (True, False)
    assert [clock.title for clock in second.clocks] == ["Kettle 1", "Tea"]
    first.show_life(now.on(minutes=6))
    assert bench.calls() == [("Tea", "new"), ("Kettle 1", "new")]
    assert bench.watch.record(now()) == ()
    assert bench.sounder.did == []
    assert not bench.watch.may_pause(now())
    assert not bench.watch.sleep_is_silent
    count = len(first.log.events())
    assert bench.stands == (reads,)
    first.close()
    found = bench.look(seconds=1)
    assert (found.took_over, bench.sounder.did[0]) == (True, 5)
    assert [event.kind for event in second.log.events()[count:]] == ["alarm", "alarm"]
    assert bench.stands == (UNTESTED,)
    assert not bench.look(seconds=1).took_over
    second.close()


# Sleep


def test_the_computer_is_kept_awake_while_a_clock_runs(opened, now):
    started = []

    def start(words):
        started.append(Child())
        return started[-1]

    bench = Bench(opened(), now, awake=Awake(["inhibit"], start))
    bench.look(seconds=1)
    assert started == []
    bench.session.start_clock("Kettle", "NOT BEFORE", timedelta(minutes=5), now())
    bench.look(seconds=1)
    bench.look(seconds=1)
    assert [child.code for child in started] == [None]
    bench.session.end_clock(bench.session.clocks[0].key, now())
    bench.look(seconds=1)
    assert [child.code for child in started] == [-15]
    bench.session.take_back(now())
    bench.look(seconds=1)
    bench.watch.end()
    assert [child.code for child in started] == [-15, -15]
    assert bench.stands == ()
    assert bench.watch.alarms(now.on(hours=1)) == []


def test_where_it_cannot_be_kept_awake_that_stands_for_a_minute_and_is_said_once(opened, now):
    bench = Bench(opened(50), now, awake=Awake(None))
    bench.look(seconds=1)
    assert bench.stands == ("NO ALARM IN SLEEP: a sleeping computer sounds no alarm; turn its sleep off",)
    bench.draw()
    bench.watch.key_came(now())
    bench.look(seconds=53)
    assert len(bench.stands) == 1
    bench.look(seconds=1)
    assert bench.stands == ()
    bench.watch.end()
    bench.watch.begin(bench.session, now())
    bench.look(seconds=1)
    assert bench.stands == ()
    assert bench.watch.sleep_is_silent


# Notices


def test_notices_are_handed_on_when_they_come_change_or_go():
    changes = []
    notices = Notices(lambda name, words: changes.append((name, words)))
    notices.stand("sound", "A is")
    notices.stand("focus", "B is")
    notices.stand("typing", "C is")
    assert notices.words == ("C is", "A is", "B is")
    notices.stand("sound", "A is not")
    notices.stand("sound", "A is not")
    assert notices.words == ("C is", "A is not", "B is")
    notices.stand("typing", "")
    notices.stand("typing", "")
    assert notices.words == ("A is not", "B is")
    assert changes == [("sound", "A is"), ("focus", "B is"), ("typing", "C is"), ("sound", "A is not"), ("typing", "")]


@pytest.mark.parametrize("order", [1, -1])
def test_lost_data_comes_before_a_wrong_time_and_that_before_silence_in_whatever_order_they_come(order):
    ranks = {
        "typing": Rank.LOST, "reading": Rank.LOST, "wall": Rank.WRONG_TIME,
        "sound": Rank.SILENT, "command": Rank.SILENT, "sleep": Rank.SILENT, "quiet": Rank.SILENT, "untested": Rank.SILENT,
    }  # fmt: skip
    assert {name: kind.rank for name, kind in KINDS.items() if kind.rank is not Rank.OTHER} == ranks
    notices = Notices(lambda name, words: None)
    for name in [*KINDS][::order]:
        notices.stand(name, name)
    assert [KINDS[name].rank for name in notices.words] == sorted(kind.rank for kind in KINDS.values())


@pytest.fixture
def three(now):
    """Three notices on a row that has room for one, and what is drawn of them second by second."""
    notices = Notices(lambda name, words: None)
    for name in ("untested", "wall", "typing"):
        notices.stand(name, name)

    def draw(seconds, pieces=1, whole=1):
        drawn = []
        for _ in range(seconds):
            notices.drawn(whole, pieces, now.on(seconds=1))
            drawn.append(notices.board.words[0] + (f" {notices.board.piece}" if pieces > 1 else ""))
        return drawn

    draw(1)
    return notices, draw


def test_those_that_have_no_room_get_their_turn_the_worst_first(three):
    _, draw = three
    assert draw(4) == ["typing"] * 4
    assert draw(10) == ["wall"] * 5 + ["untested"] * 5
    assert draw(6) == ["typing"] * 5 + ["wall"]


def test_a_worse_one_comes_at_once_and_a_lesser_one_after_the_turn(three):
    notices, draw = three
    draw(11)
    assert draw(1) == ["untested"]
    notices.stand("reading", "reading")
    assert notices.words == ("reading", "typing", "wall", "untested")
    assert draw(5)[-1] == "untested"  # what was not read is first
    assert draw(5)[-1] == "typing"
    notices.stand("focus", "focus")
    assert draw(1) == ["typing"]
    assert draw(4)[-1] == "focus"


def test_the_turn_of_one_that_goes_is_over_and_new_words_are_to_be_read_again(three):
    notices, draw = three
    draw(5)
    assert notices.words[0] == "wall"
    notices.stand("wall", "")
    assert notices.words == ("typing", "untested")
    draw(5)
    notices.stand("typing", "typing too")
    assert notices.words == ("typing too", "untested")
    assert draw(5) == ["typing too"] * 4 + ["untested"]


def test_one_that_is_longer_than_the_row_is_drawn_piece_by_piece(three):
    _, draw = three
    assert draw(15, pieces=3, whole=0) == ["typing 0"] * 4 + ["typing 1"] * 5 + ["typing 2"] * 5 + ["wall 0"]


def test_what_is_not_drawn_has_no_turn_and_is_not_read(three, now):
    notices, draw = three
    assert draw(20, pieces=0, whole=0) == ["typing"] * 20
    notices.key_came()
    notices.stand("typing", "typing", until=now())
    notices.let_go(now())
    assert notices.words[0] == "typing"


def test_where_all_have_room_the_worst_stays_first(three):
    _, draw = three
    draw(5)
    assert draw(20, whole=3) == ["typing"] * 20


def test_a_stop_counts_as_two_seconds_of_being_drawn(three, now):
    _, draw = three
    now.on(hours=1)
    assert draw(3) == ["typing"] * 3
    assert draw(1) == ["wall"]


def test_words_that_count_down_need_not_be_read_again(three):
    notices, draw = three
    draw(15)
    notices.stand("quiet", "quiet 2:00")
    assert draw(5)[-1] == "quiet 2:00"
    for second in range(4):
        notices.stand("quiet", f"quiet 1:5{9 - second}")
        assert draw(1) == [f"quiet 1:5{9 - second}"]
    assert draw(1) == ["untested"]


def test_a_notice_that_goes_by_itself_waits_for_its_time_for_being_drawn_and_for_a_key_after_that(now):
    notices = Notices(lambda name, words: None)

    def draw(seconds):
        for _ in range(seconds):
            notices.drawn(1, 1, now.on(seconds=1))

    notices.stand("wall", "A is", until=now() + timedelta(minutes=1))
    draw(5)
    notices.key_came()
    now.on(minutes=1)
    draw(1)
    notices.let_go(now())
    assert notices.words == ("A is",)  # no key was pressed since it was read
    notices.key_came()
    notices.stand("wall", "A is", until=now() + timedelta(minutes=1))
    notices.let_go(now.on(minutes=1))
    assert notices.words == ("A is",)  # none since it came once more
    draw(5)
    notices.key_came()
    notices.shift(timedelta(hours=1))
    notices.let_go(now.on(minutes=59, seconds=54))
    assert notices.words == ("A is",)
    notices.let_go(now.on(seconds=1))
    assert notices.words == ()
    notices.stand("wall", "A stays")
    draw(9)
    notices.key_came()
    notices.let_go(now.on(days=1))
    assert notices.words == ("A stays",)


def test_one_that_was_said_is_read(now):
    notices = Notices(lambda name, words: notices.said(name) if words else None)
    notices.stand("wall", "A is", until=now())
    notices.let_go(now())
    assert notices.words == ("A is",)
    notices.key_came()
    notices.let_go(now())
    assert notices.words == ()
