"""Whether the sheet in somebody's hand is the current one, by its code or a photograph of it."""

import io

import pypdfium2

from tests.web.floors import issue, later
from trackread.workflow.which_sheet import pdf_as_issued


def test_a_code_tells_whether_a_sheet_is_the_current_one(film, unit):
    old = unit.get("/api/floor/SH010").json()["code"]
    later(film)
    (second,) = issue(film, "SH010", unit="")
    (told,) = unit.get("/api/which", params={"code": old.lower()}).json()["sheets"]

    assert (told["current"], told["replaced_by"]["code"]) == (False, second.code)
    assert told["differs"]
    assert unit.get("/api/which", params={"code": second.code}).json()["sheets"][0]["current"]
    assert unit.get("/api/which", params={"code": "rubbish"}).status_code == 400


def test_a_photograph_of_a_sheet_tells_it_too(film, unit):
    (first,) = issue(film, "SH010")
    picture = io.BytesIO()
    with pypdfium2.PdfDocument(pdf_as_issued(film, first)) as pdf:
        pdf[0].render(scale=2).to_pil().save(picture, "JPEG")
    (told,) = unit.post("/api/which", content=picture.getvalue()).json()["sheets"]

    assert (told["code"], told["current"]) == (first.code, True)


def test_a_photograph_that_shows_no_code_or_is_too_large_is_refused(unit):
    assert unit.post("/api/which", content=b"no picture").status_code == 400
    too_large = unit.post("/api/which", content=bytes(8 * 2**20 + 1))

    assert (too_large.status_code, too_large.json()["problem"]) == (413, "it is too large: send 8 MB at most")


def test_a_unit_is_told_of_anothers_sheet_only_whose_it_is(floor, unit):
    code = unit.get("/api/floor/SH010").json()["code"]
    answer = floor("unit:12").get("/api/which", params={"code": code})

    assert (answer.status_code, answer.json()) == (403, {"problem": "SH010 is a sheet of unit 7, not of yours"})
