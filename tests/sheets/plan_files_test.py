#!/usr/bin/env python3
"""Plans as programs of others read them: plan_files_test.py PLAN_SPECIMEN.

SVG by xmllint and Python's XML parser, which measure the drawing anew: ids, scale, patches and their list; PDF by qpdf and
poppler; the black-and-white print by its pixels.
"""
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "drawing"))
import pictures  # noqa: E402

SPECIMEN = sys.argv[1]
SVG = "{http://www.w3.org/2000/svg}"
DOTS = 72


def run(*command):
    return subprocess.run(list(map(str, command)), capture_output=True, text=True, check=True).stdout


def corners(element):
    """The places that a path of straight lines goes through."""
    return [tuple(map(float, place)) for place in re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", element.get("d"))]


class Plans(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(scratch.cleanup)
        cls.made = pathlib.Path(scratch.name)
        run(SPECIMEN, cls.made, DOTS)
        cls.root = ElementTree.parse(cls.made / "light-1.svg").getroot()
        cls.by_id = {element.get("id"): element for element in cls.root.iter() if element.get("id")}

    def texts(self, beginning):
        return ["".join(element.itertext()) for id, element in self.by_id.items()
                if element.tag == f"{SVG}text" and id.startswith(beginning)]

    def test_svg_is_well_formed_and_ids_are_unique(self):
        files = sorted(self.made.glob("*.svg"))
        self.assertEqual(len(files), 6)
        run("xmllint", "--noout", *files)
        for path in files:
            ids = [e.get("id") for e in ElementTree.parse(path).getroot().iter() if e.get("id")]
            self.assertEqual(len(ids), len(set(ids)), path.name)

    def test_lengths_are_to_the_scale_that_the_title_says(self):
        scale = float(self.texts("title-scale-1")[0].split(":")[1])
        wide = [x for x, _ in corners(self.by_id["wall-outer"])]
        high = [y for _, y in corners(self.by_id["wall-outer"])]
        self.assertAlmostEqual(max(wide) - min(wide), 24000 / scale, delta=0.001)
        self.assertAlmostEqual(max(high) - min(high), 14000 / scale, delta=0.001)

    def test_each_patch_has_a_number_on_the_plan_and_a_row(self):
        numbers = sorted(int(found[1]) for id in self.by_id if (found := re.fullmatch(r"patch-(\d+)", id)))
        self.assertGreaterEqual(len(numbers), 6)
        for number in numbers:
            self.assertEqual("".join(self.by_id[f"patch-{number}-number"].itertext()), str(number))
            self.assertEqual("".join(self.by_id[f"row-{number}-number"].itertext()), str(number))
            self.assertTrue(self.texts(f"row-{number}-text"))

    def test_things_have_titles_for_who_points_at_them(self):
        for id, title in {"wall-cage": "Cage", "block-rack_a": "Rack A", "camera-c_hall": "Hall camera",
                          "opening-front": "Front door", "detector-pir_hall": "Hall PIR"}.items():
            self.assertEqual(self.by_id[id].find(f"{SVG}title").text, title)

    def test_pdf_is_sound_and_can_be_searched(self):
        run("qpdf", "--check", self.made / "light.pdf")
        text = run("pdftotext", "-layout", self.made / "light.pdf", "-")
        for words in ("Not seen", "Zone 1 Hall", "Legend", "Fallow Lane depot", "Privacy: Neighbour's yard"):
            self.assertIn(words, text)

    def test_black_and_white_print_has_no_colour(self):
        _, _, rows, step, _ = pictures.png(self.made / "print-1.png")
        for row in rows:
            self.assertTrue(row[0::step] == row[1::step] == row[2::step])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
