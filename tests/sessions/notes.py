"""What the tests of recorders' notes share: an iXML with all that is asked of it, and the notes it makes."""

import numpy as np

from tests.waves import chunk, encoded
from trackread.core.session import RecorderNotes
from trackread.sessions.recorder import Noted

SOUND = encoded(np.zeros(50))
NOTHING = Noted(RecorderNotes(), 0, ())
IXML = """<?xml version="1.0" encoding="UTF-8"?>
<BWFXML>
  <IXML_VERSION>2.10</IXML_VERSION>
  <PROJECT>The Late Tram</PROJECT>
  <SCENE>12A</SCENE> <TAKE>3</TAKE> <TAPE>Tram 1</TAPE> <CIRCLED>TRUE</CIRCLED> <NOTE>bell late</NOTE>
  <SPEED><TIMECODE_RATE>24000/1001</TIMECODE_RATE><TIMECODE_FLAG>NDF</TIMECODE_FLAG></SPEED>
  <TRACK_LIST>
    <TRACK_COUNT>2</TRACK_COUNT>
    <TRACK><CHANNEL_INDEX>2</CHANNEL_INDEX><INTERLEAVE_INDEX>2</INTERLEAVE_INDEX><NAME>MISS PELL</NAME></TRACK>
    <TRACK><CHANNEL_INDEX>1</CHANNEL_INDEX><INTERLEAVE_INDEX>1</INTERLEAVE_INDEX><NAME>BRACK</NAME></TRACK>
  </TRACK_LIST>
</BWFXML>
"""
WRITTEN = RecorderNotes(
    scene="12A",
    take="3",
    tape="Tram 1",
    note="bell late",
    circled=True,
    rate="24000/1001",
    drop=False,
    tracks=("BRACK", "MISS PELL"),
)


def with_ixml(text, encoding="utf-8"):
    return chunk(b"iXML", text.encode(encoding))
