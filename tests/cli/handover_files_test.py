#!/usr/bin/env python3
"""The handover file as programs of others read it: handover_files_test.py ROOT PROGRAM.

PDF by qpdf and poppler, the spreadsheet by openpyxl, tables by Python's csv module, drawings by its XML parser, codes of labels by
zbar. What stands on paper is held against what `prove --json` and `supply --json` say: no verdict, margin or voltage differs.
"""
import atexit
import csv
import json
import math
import os
import pathlib
import re
import shutil
import subprocess
import sys
import tempfile
import time
import unittest
import xml.etree.ElementTree as ElementTree

import openpyxl

ROOT, PROGRAM = map(pathlib.Path, sys.argv[1:3])
LIMITS = {"normal_min_V": "Normal, from (V)", "normal_max_V": "Normal, to (V)",
          "alarm_min_V": "Alarm, from (V)", "alarm_max_V": "Alarm, to (V)"}
LINKS = ("sense", "loop", "trigger", "view", "deliver")
SECONDS = {"s": 1.0, "min": 60.0, "h": 3600.0, "days": 86400.0}  # a long time is told in the unit that people say
PREFIXES = {"": 1.0, "k": 1e3, "M": 1e6, "G": 1e9, "m": 1e-3, "µ": 1e-6, "u": 1e-6}


def run(*command, codes=(0,)):
    done = subprocess.run(list(map(str, command)), capture_output=True, text=True, check=False)
    assert done.returncode in codes, (command, done.returncode, done.stderr)
    return done.stdout


def figures(shown, unit):
    """The number of "45 mV" in V, and half of its last digit."""
    shown = shown.lstrip("'").replace("\u2212", "-")  # the apostrophe keeps a spreadsheet from reading a formula
    digits, symbol = shown.split(" ", 1) if " " in shown else (shown, "")
    scale = PREFIXES[symbol[:-len(unit)]] if unit and symbol.endswith(unit) else 1.0
    places = len(digits.split(".")[1]) if "." in digits else 0
    whole = digits.lstrip("-").replace(".", "")
    last = 10.0 ** -places if places else 10.0 ** (len(whole) - len(whole.rstrip("0")))
    return float(digits) * scale, 0.5 * last * scale * (1 + 1e-9)


def rounded_down(told, printed, near):
    """A margin on paper is never more than the margin told, and less by no more than its last digit."""
    noise = 1e-9 * max(1.0, abs(told))
    return printed <= told + noise and told - printed <= 2 * near + noise


def numbers_in(node):
    """Every number of a tree of JSON."""
    if isinstance(node, dict):
        node = node.values()
    if isinstance(node, (int, float)) and not isinstance(node, bool) and math.isfinite(node):
        yield float(node)
    elif not isinstance(node, (str, int, float, type(None))):
        for inner in node:
            yield from numbers_in(inner)


class Handover:
    """The file of one demo site, with what the program says of it."""
    made = {}

    def __init__(self, name, *options):
        self.site = ROOT / "data" / "demo" / f"{name}.site.json"
        scratch = tempfile.mkdtemp()
        atexit.register(shutil.rmtree, scratch)
        self.folder = pathlib.Path(scratch) / "papers"
        self.said = run(PROGRAM, "handover", self.site, "-o", self.folder, *options, codes=(0, 1))
        self.document = json.loads(self.site.read_text(encoding="utf-8"))
        self.proof = json.loads(run(PROGRAM, "prove", self.site, "--json", codes=(0, 1)))["results"]

    def table(self, name):
        with open(self.folder / "tables" / f"{name}.csv", encoding="utf-8", newline="") as file:
            return list(csv.reader(file))

    @classmethod
    def of(cls, name):
        if name not in cls.made:
            cls.made[name] = cls(name)
        return cls.made[name]


class Paper(unittest.TestCase):
    names = ("kiln-yard", "tern-hollow")

    def each(self):
        for name in self.names:
            with self.subTest(site=name):
                yield Handover.of(name)

    def test_pdf_is_sound_with_pages_fonts_and_links(self):
        for paper in self.each():
            pdf = paper.folder / "handover.pdf"
            run("qpdf", "--check", pdf)
            pages = int(re.search(r"Pages:\s+(\d+)", run("pdfinfo", pdf))[1])
            text = run("pdftotext", "-layout", pdf, "-").split("\f")[:-1]
            self.assertEqual(len(text), pages)
            for number, page in enumerate(text, 1):
                self.assertRegex(page, rf"\b{number} of {pages}\b", f"page {number} is numbered")
            for line in run("pdffonts", pdf).splitlines()[2:]:
                self.assertRegex(line, r"yes\s+(yes|no)\s+(yes|no)\s+\d+", "every font is embedded")
            objects = json.dumps(json.loads(run("qpdf", "--json", pdf)))
            self.assertGreater(objects.count("/Link"), len(paper.proof["chains"]), "zones can be jumped to")

    def test_no_sentence_is_cut_off(self):
        for paper in self.each():
            self.assertNotIn("...", json.dumps(paper.document), "the site itself has no dots")
            for file in sorted((paper.folder / "tables").glob("*.csv")):
                self.assertNotIn("...", file.read_text(encoding="utf-8"), file.name)
            self.assertNotIn("...", run("pdftotext", "-layout", paper.folder / "handover.pdf", "-"))

    def test_every_verdict_is_that_of_the_proof(self):
        for paper in self.each():
            head, *rows = paper.table("chains")
            self.assertEqual(len(rows), len(paper.proof["chains"]))
            by_words = {f"Zone {chain['number']} ({chain['name']})": chain for chain in paper.proof["chains"]}
            for row in rows:
                chain = by_words[row[0]]
                for at, link in enumerate(LINKS, 1):
                    self.assertEqual(row[at], chain["links"][link]["verdict"], (row[0], link))

    def test_what_is_not_proven_has_its_sentence_and_margin(self):
        for paper in self.each():
            head, *rows = paper.table("not-proven")
            by_number = {str(chain["number"]): f"Zone {chain['number']} ({chain['name']})" for chain in paper.proof["chains"]}
            said, lines = {}, 0
            for row in rows:  # what several zones lean on stands once, under all of them
                if row[0] == "Every zone with a chain":
                    zones = list(by_number.values())
                elif row[0].startswith("Zones "):
                    zones = [by_number[number] for number in row[0].removeprefix("Zones ").split(", ")]
                else:
                    zones = [row[0]]
                lines += len(zones)
                for zone in zones:
                    said.setdefault((zone, row[1], row[3]), []).append(row[5])
            told = 0
            for chain in paper.proof["chains"]:
                for link in LINKS:
                    for evidence in chain["links"][link]["evidence"]:
                        if evidence["verdict"] == "proven":
                            continue
                        told += 1
                        key = (f"Zone {chain['number']} ({chain['name']})", evidence["verdict"], evidence["says"]["text"])
                        self.assertIn(key, said)
                        margin = evidence["margin"]
                        if margin is None:
                            continue
                        read = [figures(one, evidence["unit"]) for one in said[key] if one]
                        self.assertTrue(any(rounded_down(margin, value, near) for value, near in read), (key, margin, said[key]))
            of_site = sum(evidence["verdict"] != "proven" for evidence in paper.proof["site_evidence"])
            self.assertEqual(lines, told + of_site)

    def test_every_voltage_of_a_load_is_that_of_the_supply(self):
        for paper in self.each():
            supply = json.loads(run(PROGRAM, "supply", paper.site, "--json", codes=(0, 1)))["results"]
            head, *rows = paper.table("loads")
            volts = [figures(cell, "V")[0] for row in rows for cell in row[2:5] if cell.endswith("V")]
            self.assertTrue(volts)
            self.expect_numbers([head, *rows], range(2, 5), "V", supply)

    def test_no_load_is_promised_more_than_it_gets(self):
        for paper in self.each():
            supply = json.loads(run(PROGRAM, "supply", paper.site, "--json", codes=(0, 1)))["results"]
            loads = [load for point in supply["conditions"] for load in point["loads"]]
            head, *rows = paper.table("loads")
            self.assertEqual(len(rows), len(loads))
            for row, load in zip(rows, loads):
                if load["off"] or load["low_V"] is None:
                    continue
                noise = 1e-6
                self.assertLessEqual(figures(row[2], "V")[0], load["low_V"] + noise, row)
                self.assertGreaterEqual(figures(row[4], "V")[0], load["high_V"] - noise, row)

    def test_every_figure_of_an_output_is_of_the_supply(self):
        for paper in self.each():
            supply = json.loads(run(PROGRAM, "supply", paper.site, "--json", codes=(0, 1)))["results"]
            self.expect_numbers(paper.table("outputs"), range(2, 6), "A", supply)
            self.expect_numbers(paper.table("loads"), range(6, 8), "A", supply, paper.document)

    def test_margins_of_the_supplies_are_those_of_the_command(self):
        for paper in self.each():
            supply = json.loads(run(PROGRAM, "supply", paper.site, "--json", codes=(0, 1)))["results"]
            said = {evidence["says"]["text"]: evidence for evidence in supply["evidence"]}
            head, *rows = paper.table("supply-checks")
            for verdict, found, margin, _ in rows:
                evidence = said[found]
                self.assertEqual(verdict, evidence["verdict"])
                if margin:
                    value, near = figures(margin, evidence["unit"])
                    self.assertTrue(rounded_down(evidence["margin"], value, near), (margin, evidence["margin"], found))

    def test_every_rule_has_its_value_and_is_verified_or_not(self):
        for paper in self.each():
            for table in (paper.folder / "tables").glob("rules-*.csv"):
                book = table.stem.removeprefix("rules-")
                entries = paper.document["rulebooks"][book]["entries"].values()
                head, *rows = paper.table(table.stem)
                by_meaning = {entry["meaning"]: entry for entry in entries}
                told = 0
                for meaning, value, source, verified in rows:
                    if meaning not in by_meaning:
                        continue  # a rule for states has no number
                    told += 1
                    entry = by_meaning[meaning]
                    self.assertEqual(verified, "yes" if entry.get("verified") else "no", meaning)
                    self.assertIn(entry["source"], source)
                    given = entry.get("value")
                    if isinstance(given, dict):
                        given = given.get("value")
                    if isinstance(given, (int, float)) and entry["unit"] == "s":
                        number, unit = value.removeprefix("'").split()
                        self.assertAlmostEqual(float(number) * SECONDS[unit], given, delta=abs(given) * 5e-4)
                    elif isinstance(given, (int, float)):
                        shown = re.match(r"'?(-?[\d.]+)(?: ([kMGm]?)(?:ohm|V|A|W)\b)?", value)
                        self.assertAlmostEqual(float(shown[1]) * PREFIXES[shown[2] or ""], given, delta=abs(given) * 5e-4)
                self.assertEqual(told, len(by_meaning))

    def test_terminals_and_arming_are_those_of_the_levels(self):
        for paper in self.each():
            levels = json.loads(run(PROGRAM, "levels", paper.site, "--json", codes=(0, 1)))["results"]["levels"]
            for table in (paper.folder / "tables").glob("terminals-of-*.csv"):
                head, *rows = paper.table(table.stem)
                for row in rows:
                    number = int(re.match(r"Zone (\d+)", row[0])[1])
                    zone = next(id for id, zone in paper.document["zones"].items() if zone["number"] == number)
                    for first, unit, state in ((2, "detached", "rest"), (5, "powered", "rest"), (8, "powered", "alarm")):
                        self.expect_range(row[first:first + 2], [
                            level["panel"] for level in levels
                            if level["zone"] == zone and level["unit"] == unit and re.match(rf"{state}(_|$)", level["state"])])

    def test_what_is_typed_in_is_what_the_site_says(self):
        for paper in self.each():
            for table in (paper.folder / "tables").glob("inputs-of-*.csv"):
                unit = table.stem.removeprefix("inputs-of-")
                triggers = {trigger["input"]: trigger for trigger in paper.document["triggers"].values()
                            if trigger.get("unit") == unit and "input" in trigger}
                head, *rows = paper.table(table.stem)
                for row in rows:
                    if int(row[0]) not in triggers:
                        continue  # an input that nothing is wired to
                    setting = triggers[int(row[0])].get("setting", {})
                    for key, column in LIMITS.items():
                        if column not in head:
                            self.assertNotIn(key, setting, "left out only where nobody states it")
                            continue
                        cell = row[head.index(column)]
                        given = setting.get(key)
                        given = given.get("value") if isinstance(given, dict) else given
                        if isinstance(given, (int, float)):
                            self.assertEqual(float(cell), given, (row, key))
                        else:
                            self.assertNotRegex(cell, r"\d", (row, key))
                    self.assertEqual(row[1], str(setting.get("zone_number", "")), row)

    def test_addresses_are_those_of_the_site(self):
        for paper in self.each():
            text = json.dumps(paper.document)
            for name in ("addresses", "ways-out"):
                for address in re.findall(r"\d+\.\d+\.\d+\.\d+", " ".join(sum(paper.table(name), []))):
                    self.assertIn(f'"{address}', text, name)

    def expect_numbers(self, table, columns, unit, *sources):
        """Every figure with this unit in these columns is a number of one of the sources."""
        numbers, told = list(numbers_in(sources)), 0
        for row in table[1:]:
            for cell in (row[at] for at in columns):
                if not cell.endswith(unit):
                    continue
                value, near = figures(cell, unit)
                told += 1
                whole_step = 2 * near  # an end of an interval is rounded outward
                self.assertTrue(any(abs(value - number) <= whole_step for number in numbers), (row, cell))
        self.assertGreater(told, 0)

    def expect_range(self, cells, levels):
        """Two cells in volts hold the lowest and the highest of what the command gives, or are blank."""
        if not levels or any(level is None or level["low_V"] is None for level in levels):
            self.assertEqual(cells, ["", ""])
            return
        low, high = min(one["low_V"] for one in levels), max(one["high_V"] for one in levels)
        step, noise = 0.001, 1e-6
        self.assertTrue(-noise <= low - float(cells[0]) < step + noise, ("rounded outward", cells, low))
        self.assertTrue(-noise <= float(cells[1]) - high < step + noise, ("rounded outward", cells, high))

    def test_spreadsheet_holds_the_tables(self):
        for paper in self.each():
            book = openpyxl.load_workbook(paper.folder / "tables.xlsx")
            tables = sorted((paper.folder / "tables").glob("*.csv"))
            self.assertEqual(len(book.sheetnames), len(tables))
            self.assertEqual(len({name.lower() for name in book.sheetnames}), len(tables))
            ids = {table.stem for table in tables}
            for name in book.sheetnames:
                self.assertNotIn(name, ids, "words and no id")
                self.assertRegex(name, r"^[^\[\]:*?/\\_' ](?:[^\[\]:*?/\\_]{0,29}[^\[\]:*?/\\_' ,;-])?$")
            heads = [[cell.value or "" for cell in next(sheet.iter_rows(max_row=1))] for sheet in book]
            for table in tables:
                self.assertIn(paper.table(table.stem)[0], heads, table.stem)

    def test_drawings_are_well_formed_and_their_ids_unique(self):
        for paper in self.each():
            drawings = sorted((paper.folder / "drawings").glob("*.svg"))
            self.assertTrue(any(drawing.stem.startswith("wiring") for drawing in drawings))
            for drawing in drawings:
                ids = [element.get("id") for element in ElementTree.parse(drawing).iter() if element.get("id")]
                self.assertEqual(len(ids), len(set(ids)), drawing.name)

    def test_labels_are_read_by_a_reader_of_codes(self):
        paper = Handover.of("kiln-yard")
        run("pdftoppm", "-r", "300", "-png", "-f", "1", "-l", "1", paper.folder / "labels.pdf", paper.folder / "label")
        picture = next(paper.folder.glob("label*.png"))
        codes = run("zbarimg", "--quiet", "--raw", picture).splitlines()
        self.assertTrue(codes)
        pdf = run("pdftotext", paper.folder / "handover.pdf", "-")
        for code in codes:
            what, revision = code.split(" ")
            self.assertRegex(what, r"^(trigger|arming|supply|unit|camera)-")
            self.assertIn(revision, pdf, "the foot of every page has the same")

    def test_the_same_site_gives_the_same_bytes(self):
        first, second = Handover.of("kiln-yard"), Handover("kiln-yard")
        files = sorted(path.relative_to(first.folder) for path in first.folder.rglob("*") if path.is_file() and path.suffix != ".png")
        for file in files:
            self.assertEqual((first.folder / file).read_bytes(), (second.folder / file).read_bytes(), file)

    def test_a_copy_gives_the_same_bytes_whatever_its_date(self):
        first = Handover.of("kiln-yard")
        scratch = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, scratch)
        copy = scratch / "kiln-yard.site.json"
        shutil.copy(first.site, copy)
        os.utime(copy, (1_000_000_000, 1_000_000_000))
        run(PROGRAM, "handover", copy, "-o", scratch / "papers", codes=(0, 1))
        for file in sorted(path.relative_to(scratch / "papers") for path in (scratch / "papers").rglob("*") if path.is_file()):
            self.assertEqual((first.folder / file).read_bytes(), (scratch / "papers" / file).read_bytes(), file)
        for pdf in ("handover.pdf", "labels.pdf"):
            self.assertNotIn("Date", run("pdfinfo", first.folder / pdf), "nobody told one")

    def test_the_date_that_is_asked_for_is_on_every_page(self):
        paper = Handover("kiln-yard", "--date", "2026-02-28")
        self.assertIn("2026-02-28T00:00:00", run("pdfinfo", "-isodates", paper.folder / "handover.pdf"))
        for page in run("pdftotext", "-layout", paper.folder / "handover.pdf", "-").split("\f")[:-1]:
            self.assertIn("2026-02-28", page)
        for wrong in ("2026-02-29", "28.02.2026", "2026-2-28", "today"):
            done = subprocess.run([PROGRAM, "handover", paper.site, "-o", paper.folder / "none", "--date", wrong],
                                  capture_output=True, text=True, check=False)
            self.assertEqual((done.returncode, wrong in done.stderr), (2, True), done.stderr)

    def test_no_secret_and_no_guess(self):
        for paper in self.each():
            for table in (paper.folder / "tables").glob("*.csv"):
                self.assertNotRegex(table.read_text(encoding="utf-8"), r"(?i)\bnan\b|\binf\b|null")

    def test_letter_paper(self):
        paper = Handover("kiln-yard", "--paper", "letter")
        sizes = set(re.findall(r"Page\s+\d+ size:\s+([\d.]+ x [\d.]+)", run("pdfinfo", "-l", "9999", paper.folder / "handover.pdf")))
        self.assertIn("612 x 792", {re.sub(r"\.\d+", "", size) for size in sizes})
        self.assertNotIn("595 x 841", {re.sub(r"\.\d+", "", size) for size in sizes})

    def test_letters_that_no_font_has_are_told(self):
        """Held against what fontconfig reads from the fonts themselves."""
        covered = set()
        for font in (PROGRAM.parent / "fonts").glob("*.[ot]tf"):
            for span in run("fc-query", "--format", "%{charset}", font).split():
                first, _, last = span.partition("-")
                covered.update(range(int(first, 16), int(last or first, 16) + 1))
        name = "Лавка Κήπος דלת باب Żółć 前台 ห้อง कमरा 방 🔥 ½ € Ω"
        lacking = {letter for letter in name if ord(letter) not in covered}
        document = json.loads((ROOT / "data" / "demo" / "kiln-yard.site.json").read_text(encoding="utf-8"))
        document["zones"]["z1"]["name"] = name
        scratch = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, scratch)
        site = scratch / "names.site.json"
        site.write_text(json.dumps(document), encoding="utf-8")
        for command in (["handover", site, "-o", scratch / "papers"], ["draw", site, "wiring", "-o", scratch / "wiring.pdf"]):
            done = subprocess.run([PROGRAM, *map(str, command)], capture_output=True, text=True, check=False)
            self.assertIn(done.returncode, (0, 1), done.stderr)
            told = " ".join(done.stderr.split())
            self.assertEqual(told.count("No font of the program has"), 1, done.stderr)
            letters = told.split("empty box for each: ")[1].split(" (name of")[0]
            marks = {letter for letter in letters if letter in covered}
            self.assertEqual(set(letters) - marks, lacking)
        first_pages = run("pdftotext", "-layout", scratch / "papers" / "handover.pdf", "-")
        for letter in lacking:
            self.assertIn(f"U+{ord(letter):04X}", first_pages)

    def test_papers_speak_in_words_whatever_is_missing(self):
        """No key of the file, no name of a check: every second number that somebody could have measured is taken out."""
        document = json.loads((ROOT / "data" / "demo" / "kiln-yard.site.json").read_text(encoding="utf-8"))
        document.pop("protected_places")
        numbers = 0

        def without_numbers(node):
            nonlocal numbers
            for key, value in list(node.items()):
                if key in ("number", "revision", "version", "order", "value", "tolerance_pct", "tempco_ppm_K"):
                    continue
                if isinstance(value, (int, float)) and not isinstance(value, bool) and "_" in key:
                    numbers += 1
                    if numbers % 2:
                        node[key] = None
                elif isinstance(value, dict):
                    without_numbers(value)
        for kind in ("detectors", "cameras", "zones", "triggers", "units", "cables", "supplies", "batteries"):
            without_numbers(document[kind])
        scratch = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, scratch)
        site = scratch / "known-in-part.site.json"
        site.write_text(json.dumps(document), encoding="utf-8")
        run(PROGRAM, "handover", site, "-o", scratch / "papers", codes=(0, 1))
        papers = scratch / "papers"
        told = [(table.name, table.read_text(encoding="utf-8")) for table in (papers / "tables").glob("*.csv")]
        told += [(pdf.name, subprocess.run(["pdftotext", "-layout", pdf, "-"], capture_output=True, text=True, check=True).stdout)
                 for pdf in papers.glob("*.pdf")]
        self.assertIn("handover.pdf", dict(told))
        # A rulebook speaks its own words; that of the shelf, of which every site holds a copy, calls one limit by its key.
        for name, text in ((name, text.replace("height_target_m", "")) for name, text in told):
            self.assertEqual(re.findall(r"\b[a-z]+(?:_[A-Za-z0-9]+)+\b|/[a-z]+_[a-z]+", text), [], name)

    def test_a_killed_run_leaves_nothing_to_the_next(self):
        site = ROOT / "data" / "demo" / "kiln-yard.site.json"
        folder = pathlib.Path(tempfile.mkdtemp())
        self.addCleanup(shutil.rmtree, folder)

        def left():
            return [path for path in folder.rglob("*") if ".saving-" in path.name]
        for _ in range(20):  # until one is caught while it writes
            process = subprocess.Popen([PROGRAM, "handover", site, "-o", folder, "--replace"],
                                       stdout=subprocess.DEVNULL, stderr=subprocess.DEVNULL)
            while process.poll() is None and not left():
                time.sleep(0.0002)
            process.kill()
            process.wait()
            if left():
                break
        self.assertTrue(left(), "no run was caught while it wrote")
        run(PROGRAM, "handover", site, "-o", folder, "--replace", codes=(0, 1))
        self.assertEqual(left(), [])
        self.assertEqual([path for path in folder.rglob("*") if ".changed-" in path.name], [])

    def test_nothing_is_written_over(self):
        paper = Handover.of("kiln-yard")
        done = subprocess.run([PROGRAM, "handover", paper.site, "-o", paper.folder], capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 2)
        self.assertIn("handover.pdf", done.stderr)
        self.assertEqual(done.stdout, "")


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
