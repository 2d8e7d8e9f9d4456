"""The rows of the step panel: which of the steps done stand there where rows are dear."""

from shopmate.project.place import Place
from shopmate.session.view import DoView, Frame, Line
from shopmate.tui.widgets.step_panel import rows

DONE = Line("done", "Set the loading", "7 %")
PASSED_OVER = Line("not applicable", "Cut the cartridge", condition="if glue is tube")
IN_HAND = Line("started", "Weigh the filler")


def said(height):
    frame = Frame(Place(0, 1, 2), IN_HAND.text, ("step 3 of 3",), outline=(DONE, PASSED_OVER, IN_HAND), at=2)
    view = DoView(frame, can_wait=False, taken_up=False)
    return "\n".join(row.plain for row in rows(view, "", 60, height))


def test_the_value_taken_last_comes_before_a_step_that_did_not_apply():
    assert any("Set the loading  7 %" in said(height) and PASSED_OVER.text not in said(height) for height in range(3, 40))
    for height in range(3, 40):
        assert PASSED_OVER.text not in said(height) or "Set the loading  7 %" in said(height)


def test_with_room_for_all_it_stands_there_too():
    assert "Set the loading  7 %" in said(40)
    assert PASSED_OVER.text in said(40)
