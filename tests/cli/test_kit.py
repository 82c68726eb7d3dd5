"""Kits on the command line: checked, begun and shown."""

import json
from pathlib import Path
from shutil import copytree

import pdfplumber
import pytest
from PIL import Image

from tests.workflow.test_kits import png

KITS = Path(__file__).resolve().parents[2] / "fixtures" / "late-tram" / "kits"


@pytest.fixture
def kits(production):
    """The folder of the demo's kits, in the production."""
    copytree(KITS, production / "kits")
    return production / "kits"


class TestCheck:
    def test_a_production_without_kits_is_told_who_has_none(self, tram):
        told = tram("kit", "check").splitlines()

        assert [line.partition(" has no kit")[0] for line in told[:-1]] == [
            f"remark: {name}" for name in ("BRACK", "MISS PELL", "TUM")
        ]
        assert told[-1].startswith("There are no kits yet: begin one with")

    @pytest.mark.usefixtures("kits")
    def test_the_kits_of_the_demo_are_well(self, tram):
        told = tram("kit", "check").splitlines()

        assert [line.partition(": all mouths are alike in ")[2].partition(":")[0] for line in told[:-1]] == [
            "width",
            "rounding",
        ]
        assert told[-1] == "3 kits: nothing is wrong, 2 remarks."

    def test_all_that_is_wrong_in_all_kits_is_told_and_the_status_is_1(self, command, production, kits):
        wrong = []
        for name, old, new in (("brack", "bite = 1.0", "bite = 7"), ("tum", "bite = 1.0", "bite = true")):
            file = kits / f"{name}.toml"
            file.write_text(file.read_text().replace(old, new))
            wrong.append(f"{file}:{1 + file.read_text().splitlines().index(new)}: mouths[2].bite")
        status, told, errors = command("kit", "check", "--production", production)

        assert (status, errors) == (1, "")
        assert [line.partition(": must be")[0] for line in told.splitlines()[:2]] == wrong
        assert told.splitlines()[-1] == "3 kits: 2 problems, 2 remarks."

    def test_a_kit_of_somebody_unknown_is_remarked(self, tram, kits):
        (kits / "tum.toml").write_text((kits / "tum.toml").read_text().replace('"TUM"', '"TOM"'))
        told = tram("kit", "check")

        assert f"remark: {kits / 'tum.toml'}: production.toml has no character 'TOM'" in told
        assert "remark: TUM has no kit in kits" in told

    def test_a_kit_anywhere_is_checked_by_itself(self, command, tmp_path):
        copytree(KITS, tmp_path / "elsewhere")
        bad = tmp_path / "elsewhere" / "tum.toml"
        bad.write_text(bad.read_text() + 'picture = "../tum.png"\n')
        status, told, _ = command("kit", "check", tmp_path / "elsewhere" / "brack.toml", bad, tmp_path / "gone.toml")

        assert status == 1
        assert [line.partition(": ")[0] for line in told.splitlines()] == [
            f"{bad}:{len(bad.read_text().splitlines())}",
            str(tmp_path / "gone.toml") + " cannot be read",
            "3 kits",
        ]

    def test_a_kit_that_cannot_speak_is_a_problem(self, command, tmp_path):
        file = tmp_path / "tum.toml"
        file.write_text('character = "TUM"\nrest = "ajar"\n[[mouths]]\nname = "ajar"\nopening = 0.2\n')
        status, told, _ = command("kit", "check", file)

        assert status == 1
        assert "tum: no mouth closes the lips for p (P), b (B) and m (M)" in told


class TestNew:
    def test_a_kit_is_begun_that_nothing_is_wrong_with(self, tram, production):
        told = tram("kit", "new", "brack", "--character", "brack")
        file = production / "kits" / "brack.toml"

        assert told.startswith(f"{file} has a kit for BRACK: ")
        assert 'character = "BRACK"' in file.read_text()
        assert tram("kit", "check", file) == "1 kit: nothing is wrong.\n"

    def test_a_jaw_is_begun_in_so_many_steps(self, tram, production):
        tram("kit", "new", "tum", "--character", "TUM", "--jaw", 7)

        assert "\njaw = 7\n" in (production / "kits" / "tum.toml").read_text()
        assert tram("kit", "check", production / "kits" / "tum.toml") == "1 kit: nothing is wrong.\n"

    def test_no_kit_is_written_over(self, refused, kits):
        before = (kits / "brack.toml").read_bytes()

        assert "brack.toml is there already: choose another name" in refused("kit", "new", "brack", "--character", "X")
        assert (kits / "brack.toml").read_bytes() == before

    @pytest.mark.parametrize("name", ["../brack", "a/b", ".hidden", "", " ", "a\x07b", "."])
    def test_a_name_that_no_kit_can_have_is_refused(self, refused, production, name):
        refused("kit", "new", name, "--character", "BRACK")

        assert not (production / "kits").exists()

    @pytest.mark.parametrize("steps", [0, 1, 21, -3])
    def test_a_jaw_of_no_use_is_refused(self, refused, production, steps):
        told = refused("kit", "new", "tum", "--character", "TUM", "--jaw", steps)

        assert f"a jaw opens in 2 to 20 steps, not in {steps}" in told
        assert not (production / "kits").exists()


@pytest.mark.usefixtures("kits")
class TestShow:
    def test_the_mouths_are_listed_with_their_sounds(self, tram):
        told = tram("kit", "show", "Tum").splitlines()

        assert told[0] == "TUM"
        assert told[3].split() == ["1", "tucked", "in", "3", "at", "rest,", "p", "b", "m"]
        assert len(told) == 3 + 9

    def test_every_phone_is_in_one_mouth_of_the_json(self, tram_json):
        kit = tram_json("kit", "show", "brack")
        sounds = [sound for mouth in kit["mouths"] for sound in mouth["sounds"]]

        assert (kit["kit"], kit["character"], kit["jaw"]) == ("brack", "BRACK", 0)
        assert len(sounds) == len(set(sounds)) == 39
        assert [mouth["number"] for mouth in kit["mouths"]] == list(range(1, 13))
        assert [mouth["name"] for mouth in kit["mouths"] if mouth["rest"]] == ["lips shut"]

    @pytest.mark.parametrize("name", ["brack", "miss-pell", "tum"])
    def test_all_mouths_are_on_one_page(self, tram, tram_json, tmp_path, name):
        assert tram("kit", "show", name, "-o", tmp_path / "kit.pdf").endswith(f": {tmp_path / 'kit.pdf'}\n")
        kit = tram_json("kit", "show", name)
        with pdfplumber.open(tmp_path / "kit.pdf") as document:
            (page,) = document.pages
            text = " ".join(page.extract_text().split())
            words = page.extract_words()

        assert text.startswith(kit["character"])
        assert kit["digest"][:8] in text
        for mouth in kit["mouths"]:
            assert str(mouth["number"]) in [word["text"] for word in words]
            assert set(mouth["name"].split()) <= {word["text"] for word in words}

    def test_a_png_shows_the_page_with_the_pictures_of_mouths(self, tram, kits, tmp_path):
        (kits / "tum.png").write_bytes(png((300, 300), colour=(0, 0, 0)))
        (kits / "tum.toml").write_text((kits / "tum.toml").read_text() + 'picture = "tum.png"\n')
        tram("kit", "show", "tum", "--to", tmp_path / "KIT.PNG")
        with Image.open(tmp_path / "KIT.PNG") as picture:
            shades = picture.convert("L")

        # A4 (ISO 216) at 150 dots to the inch.
        assert shades.size == pytest.approx((210 / 25.4 * 150, 297 / 25.4 * 150), abs=2)
        # The last of nine mouths, in the third row on the right, is dark all over: pictures are printed in dark grey.
        assert max(shades.getpixel((x, y)) for x in (1000, 1100) for y in (1300, 1400)) < 80

    def test_a_kit_that_there_is_none_of_is_refused(self, refused):
        assert "no kit is called 'badger'" in (told := refused("kit", "show", "badger"))
        assert told.endswith("there are brack, miss-pell, tum\n")

    def test_a_page_is_a_pdf_or_a_png(self, command, production, tmp_path):
        status, _, errors = command("kit", "show", "tum", "-o", tmp_path / "kit.gif", "--production", production)

        assert status == 2
        assert "end its name in .pdf or .png" in errors

    def test_json_goes_with_a_page(self, tram, tmp_path):
        assert json.loads(tram("kit", "show", "tum", "--json", "-o", tmp_path / "kit.pdf"))["kit"] == "tum"
        assert (tmp_path / "kit.pdf").read_bytes().startswith(b"%PDF")
