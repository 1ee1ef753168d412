#!/usr/bin/env python3
"""The specimen document as programs of others read it: files_test.py ROOT PAPER_SPECIMEN.

PDF by qpdf and poppler, the spreadsheet by openpyxl, CSV by Python's own reader, QR codes by zbar.
"""
import csv
import datetime
import json
import os
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import openpyxl

sys.dont_write_bytecode = True
sys.path.insert(0, str(pathlib.Path(__file__).parent.parent / "drawing"))
import pictures  # noqa: E402

ROOT, SPECIMEN = pathlib.Path(sys.argv[1]), sys.argv[2]
CODES = ["https://192.168.10.20:8443/zones/z1", "ZONE 7", "4711", "Kühlraum Ψ №7"]
ROWS = 14 * 3 + 1  # of the table, its sum included


def run(*command, **more):
    return subprocess.run(list(map(str, command)), capture_output=True, text=True, check=True, **more).stdout


def written(folder, **environment):
    folder.mkdir()
    run(SPECIMEN, folder, env={**os.environ, **environment})
    return folder


class Files(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(scratch.cleanup)
        cls.root = pathlib.Path(scratch.name)
        cls.made = written(cls.root / "made")

    def pages(self, name):
        return run("pdftotext", "-layout", self.made / name, "-").split("\f")[:-1]

    def test_the_same_bytes_whatever_the_machine_is_set_to(self):
        again = written(self.root / "again", LC_ALL="ar_EG.UTF-8", TZ="Asia/Tokyo", HOME="/nonexistent", SOURCE_DATE_EPOCH="1")
        for path in sorted(self.made.iterdir()):
            self.assertEqual(path.read_bytes(), (again / path.name).read_bytes(), path.name)

    # --- PDF ---------------------------------------------------------------------------------------------------------

    def test_pdf_is_sound_and_has_its_fonts(self):
        for path in sorted(self.made.glob("*.pdf")):
            run("qpdf", "--check", path)
            for line in run("pdffonts", path).splitlines()[2:]:
                self.assertRegex(line, r"(B612|NotoSans).* yes +yes +yes ", path.name)

    def test_pages_have_their_paper_and_number(self):
        for name, standing in (("a4.pdf", (595.28, 841.89)), ("letter.pdf", (612.0, 792.0))):
            info = run("pdfinfo", "-f", 1, "-l", 99, self.made / name)
            sizes = [tuple(map(float, size)) for size in re.findall(r"size: +([\d.]+) x ([\d.]+) pts", info)]
            pages = self.pages(name)
            self.assertEqual(len(sizes), len(pages))
            for number, (size, text) in enumerate(zip(sizes, pages), 1):
                self.assertIn(f"Page {number} of {len(pages)}", text)
                if number < len(pages):
                    self.assertAlmostEqual(min(size), min(standing), delta=0.1)
                    self.assertAlmostEqual(max(size), max(standing), delta=0.1)
            self.assertAlmostEqual(sizes[-1][0], 420 / 25.4 * 72, delta=0.1)  # made by others: A3

    def test_outline_has_chapters_with_their_headings(self):
        outline = json.loads(run("qpdf", "--json", "--json-key=outlines", self.made / "a4.pdf"))["outlines"]
        told = [(entry["title"], [kid["title"] for kid in entry["kids"]]) for entry in outline]
        self.assertEqual(told, [("Contents", []), ("Words, lists and cautions", ["What is needed"]),
                                ("Tables", ["Standing again"]), ("Plans", ["Plan of the ground floor"])])
        self.assertEqual([kid["title"] for kid in outline[1]["kids"][0]["kids"]], ["In this order"])
        first = outline[1]["destpageposfrom1"]
        self.assertIn("Words, lists and cautions", self.pages("a4.pdf")[first - 1])

    def test_every_row_stands_on_paper_once_and_in_order(self):
        for name in ("a4.pdf", "letter.pdf"):
            text = run("pdftotext", "-raw", self.made / name, "-")
            inputs = [int(number) for number in re.findall(r"Input (\d+)\b", text)]
            self.assertEqual(inputs, list(range(1, 43)), name)

    def test_black_and_white_print_has_no_grey_areas_or_colour(self):
        run("pdftoppm", "-r", 50, "-f", 3, "-l", 3, "-singlefile", self.made / "print.pdf", self.root / "print")
        _, _, rows, step, *_ = pictures.ppm(self.root / "print.ppm")
        for row in rows:
            self.assertTrue(row[0::step] == row[1::step] == row[2::step])

    # --- tables ------------------------------------------------------------------------------------------------------

    def csv_rows(self):
        with (self.made / "table.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.reader(file, strict=True))

    def test_csv_is_rectangular_and_says_what_paper_says(self):
        rows = self.csv_rows()
        self.assertEqual(len(rows), 1 + ROWS)
        self.assertEqual({len(row) for row in rows}, {10})
        self.assertEqual(rows[0][4], "At rest, lowest (V)")
        text = " ".join(run("pdftotext", "-raw", self.made / "a4.pdf", "-").split())
        for row in rows[1:-1]:
            self.assertIn(f"{row[4]} {row[5]}", text)

    def test_spreadsheet_has_the_same_cells_as_csv_and_figures_are_numbers(self):
        book = openpyxl.load_workbook(self.made / "table.xlsx")
        self.assertEqual(book.sheetnames, ["Trigger wires"])
        sheet = book.active
        self.assertEqual(sheet.freeze_panes, "A2")
        rows = self.csv_rows()
        for number, row in enumerate(rows, 1):
            for column, says in enumerate(row, 1):
                cell = sheet.cell(number, column)
                if isinstance(cell.value, str) and cell.value.startswith("="):
                    continue
                if number > 1 and column in (5, 6, 8) and says:
                    self.assertEqual(cell.data_type, "n")
                    self.assertEqual(cell.value, float(says))
                    self.assertEqual(cell.number_format, "0.000" if column < 8 else "0.0")
                else:
                    self.assertEqual(cell.value or "", says)
        widths = [sheet.column_dimensions[letter].width for letter in "BCDE"]
        self.assertGreater(widths[0], 50)
        self.assertLess(max(widths), 70)
        self.assertIn("Black probe", sheet.cell(len(rows) + 2, 1).value)

    def test_formula_has_its_value_beside_it(self):
        formula = openpyxl.load_workbook(self.made / "table.xlsx").active.cell(1 + ROWS, 8)
        value = openpyxl.load_workbook(self.made / "table.xlsx", data_only=True).active.cell(1 + ROWS, 8)
        self.assertEqual(formula.value, f"=SUM(H2:H{ROWS})")
        sheet = openpyxl.load_workbook(self.made / "table.xlsx").active
        self.assertAlmostEqual(value.value, sum(sheet.cell(row, 8).value for row in range(2, ROWS + 1)))

    def test_spreadsheet_is_dated_by_the_revision(self):
        properties = openpyxl.load_workbook(self.made / "table.xlsx").properties
        self.assertEqual(properties.created, datetime.datetime(2026, 3, 1, 12))
        self.assertEqual((properties.title, properties.creator), ("Saltmarsh Cold Store", "zoneproof"))

    # --- codes -------------------------------------------------------------------------------------------------------

    def decoded(self, path):
        found = run("zbarimg", "--quiet", "--raw", "--nodbus", "-S*.disable", "-Sqrcode.enable", path,
                    env={**os.environ, "LC_ALL": "C.UTF-8"})
        return found.splitlines()

    def faces(self):
        """Of the labels of the sheet, in order, both halves of each: (label from 0, left, top, width, height), in mm."""
        stock = json.loads((ROOT / "data" / "labels" / "generic.json").read_text(encoding="utf-8"))
        half = (stock["label_width_mm"] - stock["fold_mm"]) / 2
        for place in range(3, stock["columns"] * stock["rows"]):
            left = stock["left_mm"] + place % stock["columns"] * stock["pitch_x_mm"]
            top = stock["top_mm"] + place // stock["columns"] * stock["pitch_y_mm"]
            for at in (left, left + stock["label_width_mm"] - half):
                yield place - 3, at, top, half, stock["print_height_mm"]

    def cut_out(self, picture, box, dots, path):
        """A label alone, as a phone sees it: of a whole page of codes the reader takes the wrong corners together."""
        width, height, rows, step, *_ = picture
        left, top, across, down = (round(mm / 25.4 * dots) for mm in box)
        body = b"".join(bytes(row[step * x + i] for x in range(left, min(left + across, width)) for i in range(3))
                        for row in rows[top:min(top + down, height)])
        path.write_bytes(b"P6 %d %d 255\n" % (min(left + across, width) - left, min(top + down, height) - top) + body)

    def test_codes_are_read_from_paper_and_from_the_screen(self):
        run("pdftoppm", "-r", 200, "-f", 1, "-l", 1, "-singlefile", self.made / "labels.pdf", self.root / "labels")
        read = 0
        for picture in (pictures.png(self.made / "labels-1.png"), pictures.png(self.made / "labels-print-1.png"),
                        pictures.ppm(self.root / "labels.ppm")):
            for label, *box in list(self.faces())[:12]:
                self.cut_out(picture, box, 200, self.root / "label.ppm")
                self.assertEqual(self.decoded(self.root / "label.ppm"), [CODES[label % len(CODES)]])
                read += 1
        self.assertEqual(read, 36)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
