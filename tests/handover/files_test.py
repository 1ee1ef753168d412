#!/usr/bin/env python3
"""The chapters of a demo site as programs of others read them: files_test.py ROOT HANDOVER_SPECIMEN ZONEPROOF.

Figures on paper, in CSV and in the spreadsheet are held against each other and against what `levels --json` prints.
"""
import csv
import json
import math
import pathlib
import re
import subprocess
import sys
import tempfile
import unittest

import openpyxl

sys.dont_write_bytecode = True
ROOT, SPECIMEN, PROGRAM = sys.argv[1:4]
DEMO = "saltmarsh"
SITE = pathlib.Path(ROOT) / "data" / "demo" / f"{DEMO}.site.json"


def run(*command, codes=(0,)):
    done = subprocess.run(list(map(str, command)), capture_output=True, text=True, check=False)
    assert done.returncode in codes, (command, done.returncode, done.stderr)
    return done.stdout


class Chapters(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        scratch = tempfile.TemporaryDirectory()
        cls.addClassCleanup(scratch.cleanup)
        cls.made = pathlib.Path(scratch.name)
        run(SPECIMEN, DEMO, cls.made)
        cls.site = json.loads(SITE.read_text(encoding="utf-8"))

    def table(self, name):
        with (self.made / f"{name}.csv").open(encoding="utf-8", newline="") as file:
            return list(csv.DictReader(file, strict=True))

    def test_pdf_is_sound_and_every_page_is_numbered(self):
        for name in ("a4.pdf", "letter.pdf"):
            run("qpdf", "--check", self.made / name)
            pages = run("pdftotext", "-layout", self.made / name, "-").split("\f")[:-1]
            for number, text in enumerate(pages, 1):
                self.assertIn(f"Page {number} of {len(pages)}", text)

    def test_rows_of_files_stand_on_paper_in_the_same_order(self):
        text = " ".join(run("pdftotext", "-raw", self.made / "a4.pdf", "-").split())
        rows = self.table("wires")
        at = 0
        for row in rows:
            low, high = row["At the unit, at rest, lowest (V)"], row["At the unit, at rest, highest (V)"]
            if not low:
                continue
            at = text.find(f"{low} {high}", at)
            self.assertGreater(at, 0, row)
            at += 1
        self.assertGreater(len(rows), 40)

    def test_figures_are_those_of_the_command(self):
        levels = json.loads(run(PROGRAM, "levels", SITE, "--json"))["results"]["levels"]
        by_trigger = {}
        for level in levels:
            if level["unit"] == "powered" and level["state"] == "rest" and level["unit_input"]:
                by_trigger.setdefault(level["trigger"], []).append(level["unit_input"])
        noise = 1e-3  # of the last digit: paper rounds outward, and no further for what arithmetic leaves
        wanted = {(f"{math.floor(1e3 * min(one['low_V'] for one in many) + noise) / 1e3:.3f}",
                   f"{math.ceil(1e3 * max(one['high_V'] for one in many) - noise) / 1e3:.3f}")
                  for many in by_trigger.values() if all(one["low_V"] is not None for one in many)}
        found = {(row["At the unit, at rest, lowest (V)"], row["At the unit, at rest, highest (V)"])
                 for row in self.table("wires")}
        self.assertEqual(found - {("", "")}, wanted)

    def test_spreadsheet_has_a_sheet_a_table_with_the_cells_of_csv(self):
        book = openpyxl.load_workbook(self.made / "tables.xlsx")
        names = ["wires", "terminals", "arming", "supply", "back", "inputs", "channels"]
        self.assertEqual(len(book.sheetnames), len(names))
        for sheet, name in zip(book, names):
            with (self.made / f"{name}.csv").open(encoding="utf-8", newline="") as file:
                rows = list(csv.reader(file, strict=True))
            for number, row in enumerate(rows, 1):
                for column, says in enumerate(row, 1):
                    value = sheet.cell(number, column).value
                    if isinstance(value, (int, float)):
                        self.assertEqual(value, float(says))
                    else:
                        self.assertEqual(value or "", says, (name, number, column))

    def test_every_input_has_the_range_of_the_site_file(self):
        rows = {(row["Unit"], row["Input"]): row for row in self.table("inputs")}
        compared = 0
        for trigger in self.site["triggers"].values():
            setting = trigger.get("setting", {})
            if "input" not in trigger or "normal_min_V" not in setting:
                continue
            row = rows[(self.site["units"][trigger["unit"]]["name"], str(trigger["input"]))]
            for end, key in (("from", "normal_min_V"), ("to", "normal_max_V")):
                says, wanted = row[f"Normal, {end} (V)"], setting[key]
                self.assertEqual("none" if says == "no limit" else float(says), wanted)
            compared += 1
        self.assertGreater(compared, 30)

    def test_no_word_asks_for_a_secret(self):
        text = run("pdftotext", self.made / "a4.pdf", "-")
        for line in text.splitlines():
            self.assertFalse(re.search(r"password|user name|PIN\b", line, re.I) and "Passwords and codes" not in line, line)


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
