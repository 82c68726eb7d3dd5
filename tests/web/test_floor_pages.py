"""What the floor's pages show, in a real browser: rows, mouths, sound, STALE, codes; on a phone and on a tablet."""

import pypdfium2
import pytest
from playwright.sync_api import expect

from tests.films import FRAME
from tests.web.floors import issue, later, shot
from tests.web.tablets import (
    PHONE,
    SOON,
    TABLET,
    UPRIGHT,
    axe_problems,
    done,
    opened,
    told,
)
from trackread.workflow.undoing import undo
from trackread.workflow.which_sheet import pdf_as_issued


def test_a_row_says_what_is_said_and_worn_and_shows_it(tablet):
    with tablet(TABLET) as page:
        opened(page)
        page.locator("summary").tap()
        page.locator("#to").fill("12")
        page.get_by_role("button", name="Go", exact=True).tap()
        brack = page.locator(".voice", has_text="BRACK")
        picture = brack.locator("img")
        expect(brack).to_contain_text("Mind")
        expect(brack.locator("figcaption")).to_have_text("lips shut")
        expect(picture).to_have_count(1)

        assert picture.evaluate("it => it.naturalWidth") > 0
        page.locator("#beat").tap()
        expect(page.locator("#now .beat")).to_have_count(1)


def test_stale_is_seen_within_two_seconds_of_a_new_issue_and_the_new_sheet_can_be_taken(tablet, film, app):
    with tablet(TABLET) as page:
        opened(page)
        done(page, 11)
        told(page)
        later(film)
        (new,) = issue(film, "SH010", unit="", reason="later")
        app.state.live.tell("issued", {"kind": "issued", "shot": "SH010", "issue": 2, "unit": "7", "code": new.code})
        expect(page.locator("#stale-word")).to_be_visible(timeout=SOON)
        expect(page.locator("#stale-why")).to_contain_text("is replaced by issue 2 from frame", timeout=SOON)
        expect(page.locator("#stale-told li").first).to_be_visible(timeout=SOON)
        for width, height in (TABLET, UPRIGHT, PHONE):
            page.set_viewport_size({"width": width, "height": height})
            # On tablets all of the frame being shot, on a phone its number and the words said on it.
            parts = ["#stale", "#now" if width > PHONE[0] else "#voices .said >> nth=0", "#done"]
            stale, now, button = (page.locator(one).bounding_box() for one in parts)
            assert (stale["x"], stale["width"]) == (0, width)
            assert stale["y"] + stale["height"] <= now["y"]
            assert now["y"] + now["height"] <= button["y"]
            assert button["y"] + button["height"] <= height
            assert axe_problems(page) == []
        # Loaded anew it is still the sheet that is being shot from, and still stale.
        page.reload()
        expect(page.locator("#stale-word")).to_be_visible()
        page.locator("#take").tap()
        expect(page.locator("#stale")).to_be_hidden()
        expect(page.locator("#issue")).to_contain_text(f"issue 2 of 2026-11-26, {new.code}")
        expect(page.locator("#number")).to_have_text("12")
        done(page)
        told(page)

        assert shot(film) == 12


def test_a_change_is_told_before_a_new_sheet_is_out_and_no_longer_once_it_is_taken_back(tablet, film, app):
    with tablet(PHONE) as page:
        opened(page)
        later(film)
        app.state.live.tell("stale", {"kind": "stale", "shot": "SH010"})
        expect(page.locator("#doubt")).to_contain_text("Something has changed from frame", timeout=SOON)
        undo(film, "L0001-1", "ANN")
        app.state.live.tell("holds", {"kind": "holds", "shot": "SH010"})
        expect(page.locator("#doubt")).to_be_hidden(timeout=SOON)


def test_the_samples_of_a_frame_and_of_no_other_are_played(tablet):
    with tablet(TABLET) as page:
        opened(page)
        heard = page.evaluate(
            """async (frame) => {
              const { RATE, firstSample, playOn } = await import("/static/floor_sound.js");
              const bytes = await (await fetch("/api/floor/SH010/sound")).arrayBuffer();
              const buffer = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(bytes);
              const [first, stop] = [firstSample(frame, [24, 1]), firstSample(frame + 1, [24, 1])];
              const context = new OfflineAudioContext(1, RATE, RATE);
              playOn(context, buffer, { first, stop, loudness: 1, at: 0 });
              const out = (await context.startRendering()).getChannelData(0);
              const own = buffer.getChannelData(0).subarray(first, stop);
              const inside = [...own.keys()].slice(200, own.length - 200);
              return {
                length: own.length,
                worst: Math.max(...inside.map((k) => Math.abs(out[k] - own[k] / 2))),
                after: Math.max(...out.subarray(own.length).map(Math.abs)),
                most: Math.max(...out.map(Math.abs)),
                ends: [Math.abs(out[0]), Math.abs(out[own.length - 1])],
                sounds: Math.max(...own.map(Math.abs)),
              };
            }""",
            15,
        )

        assert heard["length"] == FRAME
        # 24 bits of a float32's fraction.
        assert heard["worst"] < 2**-23
        assert (heard["after"], heard["most"] <= 0.5, heard["sounds"] > 0.01) == (0, True, True)
        assert max(heard["ends"]) < 0.01


@pytest.mark.parametrize(("look", "size"), [("dark", PHONE), ("paper", TABLET)])
def test_axe_finds_nothing_and_every_target_is_large(tablet, size, look):
    with tablet(size) as page:
        page.goto("/floor")
        expect(page.get_by_role("link", name="SH010")).to_be_visible()
        if look == "paper":
            page.get_by_role("button", name="Paper white").tap()
        assert axe_problems(page) == []
        opened(page)
        assert page.locator("html").get_attribute("data-look") == look
        page.locator("#down").tap()
        assert axe_problems(page) == []
        page.locator("summary").tap()
        assert axe_problems(page) == []
        sizes = page.locator("button:visible, a:visible:not(.skip), input:visible, summary").evaluate_all(
            """every => every.map((it) => {
              const { width, height } = it.getBoundingClientRect();
              return [it.id || it.textContent, width, height];
            })"""
        )

        assert len(sizes) > 12
        assert [(name, width, height) for name, width, height in sizes if min(width, height) < 48] == []
        assert page.locator("#done").bounding_box()["height"] >= 96
        assert page.evaluate("document.documentElement.scrollWidth") <= size[0]


def test_a_code_that_is_typed_tells_whether_the_sheet_is_current(tablet, film):
    with tablet(PHONE) as page:
        page.goto("/floor")
        (first,) = issue(film, "SH010")
        page.locator("#typed").fill(first.code)
        page.get_by_role("button", name="Look it up").tap()
        expect(page.locator("#found")).to_contain_text("CURRENT: SH010, issue 1")
        page.locator("#typed").fill("rubbish")
        page.get_by_role("button", name="Look it up").tap()
        expect(page.locator("#found")).to_contain_text("is not the code of a sheet")


def test_a_photograph_that_is_chosen_tells_it_too(tablet, film, tmp_path):
    picture = tmp_path / "sheet.jpg"
    (first,) = issue(film, "SH010")
    with pypdfium2.PdfDocument(pdf_as_issued(film, first)) as pdf:
        pdf[0].render(scale=4).to_pil().save(picture)
    with tablet(PHONE) as page:
        page.goto("/floor")
        page.locator("#photo").set_input_files(picture)
        expect(page.locator("#found")).to_contain_text(
            f"CURRENT: SH010, issue 1 of {first.date} is the one to shoot from"
        )


def test_the_list_of_shots_follows_what_happens(tablet):
    with tablet(PHONE) as page:
        page.goto("/floor")
        expect(page.get_by_role("link", name="SH010")).to_contain_text("0 of 48 frames shot")
        with tablet(TABLET) as other:
            opened(other)
            done(other, 2)
            told(other)
        expect(page.get_by_role("link", name="SH010")).to_contain_text("2 of 48 frames shot", timeout=SOON)
