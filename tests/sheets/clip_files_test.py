#!/usr/bin/env python3
"""The drawing of one alarm as programs of others read it: clip_files_test.py ROOT PROGRAM.

SVG by xmllint and Python's XML parser, which measure the bars anew against the seconds that --json tells; PDF by qpdf and poppler;
PNG by its own chunks.
"""
import json
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

ROOT, PROGRAM = map(pathlib.Path, sys.argv[1:3])
SVG = "{http://www.w3.org/2000/svg}"
SITE = ROOT / "data" / "demo" / "kiln-yard-corrected.site.json"
ROWS = {"trips": "contact", "panel_counts": "panel", "entry_ends": "entry", "unit_counts": "unit", "clip_asked": "asked",
        "picture_at_station": "picture", "picture_shown": "screen", "clip_at_station": "complete"}


def run(*command, codes=(0,)):
    done = subprocess.run(list(map(str, command)), capture_output=True, text=True, check=False)
    assert done.returncode in codes, (command, done.returncode, done.stderr)
    return done.stdout


def wide(element):
    """From the leftmost to the rightmost place of a path of straight lines."""
    across = [float(x) for x, _ in re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", element.get("d"))]
    return min(across), max(across)


class Alarm(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(scratch.cleanup)
        cls.made = pathlib.Path(scratch.name)
        for kind in ("svg", "pdf", "png"):
            out = run(PROGRAM, "clip", SITE, "--zone", "4", "--json", "--drawing", cls.made / f"alarm.{kind}", codes=(0, 1))
        cls.clip = json.loads(out)["results"]["zones"][0]["clips"][0]
        cls.root = ElementTree.parse(cls.made / "alarm.svg").getroot()
        cls.by_id = {element.get("id"): element for element in cls.root.iter() if element.get("id")}

    def seconds(self, axis):
        """From places on the axis to seconds, by the first and the last of its ticks and their figures."""
        across = [float(x) for x, _ in re.findall(r"(-?[\d.]+)[ ,](-?[\d.]+)", self.by_id[f"{axis}-ticks"].get("d"))]
        figures = [float("".join(element.itertext())) for id, element in self.by_id.items()
                   if re.fullmatch(rf"{axis}-tick-\d+", id)]
        left, right = min(across), max(across)
        low, high = min(figures), max(figures)
        return lambda mm: low + (mm - left) / (right - left) * (high - low)

    def test_svg_is_well_formed_and_ids_are_unique(self):
        run("xmllint", "--noout", self.made / "alarm.svg")
        ids = [element.get("id") for element in self.root.iter() if element.get("id")]
        self.assertEqual(len(ids), len(set(ids)))

    def test_bars_end_where_the_answer_says(self):
        second, measured = self.seconds("whole"), 0
        for line in self.clip["log"]:
            bar = self.by_id.get(f"row-{ROWS.get(line['what'])}-whole-possible-1")
            if line["what"] not in ROWS or line["earliest_s"] is None:
                self.assertIsNone(bar)
                continue
            left, right = wide(bar)
            self.assertAlmostEqual(second(left), line["earliest_s"], delta=0.02, msg=line["what"])
            self.assertAlmostEqual(second(right), line["latest_s"], delta=0.02, msg=line["what"])
            measured += 1
        self.assertGreaterEqual(measured, 6)

    def test_pdf_is_sound_and_can_be_searched(self):
        run("qpdf", "--check", self.made / "alarm.pdf")
        text = run("pdftotext", "-layout", self.made / "alarm.pdf", "-")
        site = json.loads(SITE.read_text(encoding="utf-8"))
        for words in (site["name"], "Legend", "not for sure" if "row-shown-close-sure" not in self.by_id else "for "):
            self.assertIn(words, text)

    def test_png_has_the_size_of_its_paper(self):
        width, height, *_ = pictures.png(self.made / "alarm.png")
        self.assertAlmostEqual(width / height, 297 / 210, delta=0.002)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
