#!/usr/bin/env python3
"""The specimen's files as programs of others read them: files_test.py DRAWING_SPECIMEN FONTS.

SVG by Python's XML parser, xmllint and librsvg; PDF by qpdf and poppler; PNG by a reader that knows the standard only.
All three must show the same, and be the same bytes on every run, whatever the machine's own settings are.
"""
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest
import xml.etree.ElementTree as ElementTree

sys.path.insert(0, str(pathlib.Path(__file__).parent))
sys.dont_write_bytecode = True
import pictures  # noqa: E402

SPECIMEN, FONTS = sys.argv[1:3]
DOTS = 144
SVG = "{http://www.w3.org/2000/svg}"
NAMES = ["Zone 1 Loading dock", "Zone 4", "Ψυκτικός θάλαμος", "Холодильная камера", "Łódź 12 kΩ", "Camera 3 & <west>",
         "Saltmarsh Cold Store", "Blind patch: a person is detected", "1:100"]


def run(*command, **more):
    return subprocess.run(list(map(str, command)), capture_output=True, text=True, check=True, **more).stdout


def written(folder, **environment):
    folder.mkdir()
    run(SPECIMEN, folder, DOTS, env={**os.environ, **environment})
    return folder


class Files(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(scratch.cleanup)
        cls.root = pathlib.Path(scratch.name)
        cls.made = written(cls.root / "made")
        (cls.root / "fonts.conf").write_text(
            '<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
            f"<dir>{FONTS}</dir><cachedir>{cls.root}/cache</cachedir></fontconfig>", encoding="utf-8")

    def tree(self, name):
        return ElementTree.parse(self.made / name).getroot()

    def test_the_same_bytes_whatever_the_machine_is_set_to(self):
        odd = self.root / "odd.conf"
        odd.write_text('<?xml version="1.0"?><!DOCTYPE fontconfig SYSTEM "fonts.dtd"><fontconfig>'
                       '<match target="font"><edit name="hintstyle"><const>hintfull</const></edit></match>'
                       '<match target="pattern"><edit name="family" mode="assign"><string>DejaVu Sans</string></edit>'
                       "</match></fontconfig>", encoding="utf-8")
        again = written(self.root / "again", FONTCONFIG_FILE=str(odd), LC_ALL="ar_EG.UTF-8", LANGUAGE="ar",
                        PANGO_LANGUAGE="ja", TZ="Asia/Tokyo", HOME="/nonexistent", SOURCE_DATE_EPOCH="1")
        names = sorted(path.name for path in self.made.iterdir())
        self.assertEqual(len(names), 3 * 5 + 1)
        for name in names:
            self.assertEqual((self.made / name).read_bytes(), (again / name).read_bytes(), name)

    # --- SVG ---------------------------------------------------------------------------------------------------------

    def test_svg_is_well_formed_and_keeps_ids_and_texts(self):
        run("xmllint", "--noout", *sorted(self.made.glob("*.svg")))
        root = self.tree("light-1.svg")
        self.assertEqual(root.get("viewBox"), "0 0 210 297")
        self.assertEqual(root.get("width"), "210mm")
        self.assertEqual(root.find(f"{SVG}title").text, "Ground floor")
        self.assertTrue(root.find(f"{SVG}desc").text)
        ids = [element.get("id") for element in root.iter() if element.get("id")]
        self.assertEqual(len(ids), len(set(ids)))
        for wanted in ("walls", "patch-1", "label-5", "title-block", "scale-bar", "north-arrow", "legend", "frame"):
            self.assertIn(wanted, ids)
        texts = ["".join(element.itertext()) for element in root.iter(f"{SVG}text")]
        for name in NAMES:
            self.assertTrue(any(name in text for text in texts), name)
        titles = [element.text for element in root.iter(f"{SVG}title")]
        self.assertIn("Blind patch 1: behind the racking", titles)

    def test_svg_classes_have_rules_and_links_lead_somewhere(self):
        for path in self.made.glob("*.svg"):
            root = ElementTree.parse(path).getroot()
            style = root.find(f"{SVG}style").text
            rules = set(re.findall(r"\.([\w-]+)\{", style))
            ids = {element.get("id") for element in root.iter()}
            for element in root.iter():
                self.assertLessEqual(set((element.get("class") or "").split()), rules, path.name)
                href = element.get("href")
                if element.tag == f"{SVG}a":
                    self.assertTrue(href.startswith("https://example.org/") or href[1:] in ids, href)
        links = [element.get("href") for element in self.tree("light-2.svg").iter(f"{SVG}a")]
        self.assertIn("https://example.org/zones?number=1&kind='a'", links)

    def test_svg_for_a_page_has_its_prefix_everywhere_and_follows_the_reader(self):
        text = (self.made / "reader-1.svg").read_text(encoding="utf-8")
        self.assertIn("@media (prefers-color-scheme: dark)", text)
        self.assertIn("@media print", text)
        for element in self.tree("reader-1.svg").iter():
            for word in [element.get("id"), *(element.get("class") or "").split()]:
                self.assertTrue(word is None or word.startswith("a-"), word)

    def test_svg_says_the_direction_and_width_of_each_text(self):
        for element in self.tree("light-1.svg").iter(f"{SVG}text"):
            self.assertGreater(float(element.get("textLength")), 0)
            hebrew_or_arabic = re.match(r"[7 ]*[\u0590-\u06ff]", "".join(element.itertext()))
            self.assertEqual(element.get("direction") == "rtl", bool(hebrew_or_arabic))

    # --- PDF ---------------------------------------------------------------------------------------------------------

    def test_pdf_is_sound_and_its_fonts_are_in_it(self):
        for path in sorted(self.made.glob("*.pdf")):
            said = subprocess.run(["qpdf", "--check", path], capture_output=True, text=True, check=False)
            self.assertEqual((said.returncode, said.stderr), (0, ""), path.name)
            rows = run("pdffonts", path).splitlines()[2:]
            self.assertTrue(rows)
            for row in rows:
                self.assertRegex(row, r"[A-Z]{6}\+(B612|NotoSans)\S* .* yes yes yes +\d+ +0$")

    def test_pdf_says_what_the_caller_said(self):
        said = dict(re.findall(r"^(.+?): +(.*)$", run("pdfinfo", "-isodates", self.made / "light.pdf"), re.M))
        self.assertEqual(said["Pages"], "2")
        self.assertEqual(said["Title"], "Saltmarsh Cold Store, revision 14")
        self.assertEqual(said["Subject"], "Specimen of drawings")
        self.assertEqual(said["Creator"], "zoneproof")
        for date in ("CreationDate", "ModDate"):
            self.assertEqual(said[date], "2026-03-01T12:00:00Z")
        sizes = re.findall(r"Page +\d size: ([\d.]+) x ([\d.]+)", run("pdfinfo", "-l", 2, self.made / "light.pdf"))
        for size, wanted in zip(sizes, [(210, 297), (279.4, 215.9)]):
            for points, millimetres in zip(size, wanted):
                self.assertAlmostEqual(float(points) / 72 * 25.4, millimetres, delta=0.01)

    def test_pdf_texts_can_be_searched(self):
        text = run("pdftotext", "-layout", self.made / "light.pdf", "-")
        for name in NAMES:
            self.assertIn(name, text)
        for name in ("غرفة التبريد", "חדר קירור"):
            self.assertIn(name, re.sub("[\u202a-\u202e]", "", text))

    def test_pdf_links_and_outline(self):
        urls = run("pdfinfo", "-url", self.made / "light.pdf")
        for number in range(1, 5):
            self.assertIn(f"https://example.org/zones?number={number}&kind='a'", urls)
        places = run("pdfinfo", "-dests", self.made / "light.pdf")
        self.assertRegex(places, r'1 \[ XYZ .*"1/label-5"')
        self.assertRegex(places, r'2 \[ XYZ .*"2/mark-3"')
        outline = json.loads(run("qpdf", "--json", "--json-key=outlines", self.made / "light.pdf"))["outlines"]
        self.assertEqual([(entry["title"], entry["destpageposfrom1"], [kid["title"] for kid in entry["kids"]])
                          for entry in outline],
                         [("Ground floor", 1, ["Walls"]), ("Verdicts", 2, ["Rows"])])

    # --- pictures ----------------------------------------------------------------------------------------------------

    def test_png_has_size_resolution_and_title(self):
        width, height, _, _, found = pictures.png(self.made / "light-1.png")
        self.assertEqual((width, height), (round(210 / 25.4 * DOTS), round(297 / 25.4 * DOTS)))
        self.assertEqual(found["pHYs"], (5669).to_bytes(4, "big") * 2 + b"\x01")
        self.assertIn(b"Ground floor", found["iTXt"])
        self.assertIn("sRGB", found)

    def test_black_and_white_print_has_no_colour(self):
        _, _, rows, step, _ = pictures.png(self.made / "print-1.png")
        for row in rows:
            self.assertTrue(row[0::step] == row[1::step] == row[2::step])

    def by_librsvg(self, name, svg=None):
        source, target = self.root / f"{name}.svg", self.root / f"{name}.png"
        source.write_text(svg or (self.made / f"{name}.svg").read_text(encoding="utf-8"), encoding="utf-8")
        run("rsvg-convert", "-d", DOTS, "-p", DOTS, "-o", target, source,
            env={**os.environ, "FONTCONFIG_FILE": str(self.root / "fonts.conf")})
        return pictures.png(target)

    # Mean and greatest difference, of 255, in blocks of 2.5 mm. librsvg paints with Cairo too; poppler has a painter of
    # its own that makes thin lines and small letters a little heavier.
    LIKE_SVG, LIKE_PDF = (0.5, 15.0), (1.2, 24.0)

    def assert_alike(self, a, b, limits, name):
        mean, most = pictures.difference(a, b)
        self.assertLess(mean, limits[0], name)
        self.assertLess(most, limits[1], name)

    def test_svg_pdf_and_png_show_the_same(self):
        for name in ("light-1", "light-2", "dark-1", "print-2"):
            ours = pictures.png(self.made / f"{name}.png")
            self.assert_alike(ours, self.by_librsvg(name), self.LIKE_SVG, name)
            palette, sheet = name.split("-")
            target = self.root / name
            run("pdftoppm", "-r", DOTS, "-f", sheet, "-l", sheet, "-singlefile", self.made / f"{palette}.pdf", target)
            self.assert_alike(ours, pictures.ppm(target.with_suffix(".ppm")), self.LIKE_PDF, name)

    def test_the_comparison_sees_what_is_missing(self):
        text = (self.made / "light-1.svg").read_text(encoding="utf-8")
        ours = pictures.png(self.made / "light-1.png")
        for gone in (r"<path id=\"door\".*\n", r"<path id=\"patch-2-hatch\".*\n", r"<text id=\"label-3\".*\n"):
            less, count = re.subn(gone, "", text)
            self.assertEqual(count, 1, gone)
            self.assertGreater(pictures.difference(ours, self.by_librsvg("light-1", less))[1], self.LIKE_SVG[1], gone)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
