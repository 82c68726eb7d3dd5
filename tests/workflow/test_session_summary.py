"""What is said of a session that was brought in."""

from trackread.core.session import RecorderNotes
from trackread.workflow.session_summary import recorder_says


def test_what_the_recorder_noted_is_said_in_a_row():
    noted = RecorderNotes(scene="12A", take="3", tape="R4", circled=True, description="bext says this")

    assert recorder_says(noted) == "scene 12A, take 3, tape R4, circled"
    assert recorder_says(RecorderNotes(take="3", circled=False)) == "take 3"


def test_nothing_is_said_of_a_recorder_that_noted_nothing():
    assert recorder_says(RecorderNotes(description="room tone", circled=False)) == ""
