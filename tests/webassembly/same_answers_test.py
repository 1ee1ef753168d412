#!/usr/bin/env python3
"""The engine compiled to WebAssembly says what the command says.

  same_answers_test.py ROOT NATIVE NODE PROGRAM.js

Every question is put to both; answers.py tells what may differ. The exit code may not.
"""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

from answers import differences, differences_of_lines

ROOT, NATIVE, NODE, PROGRAM = None, None, None, None


class SameAnswers(unittest.TestCase):
    def ask(self, *question):
        """Both answers to a question: (exit code, what is written, what is reported)."""
        answers = []
        for program in ([NATIVE], [NODE, PROGRAM]):
            done = subprocess.run([*program, *question], cwd=ROOT, capture_output=True, text=True, check=False)
            answers.append((done.returncode, done.stdout, done.stderr))
        self.assertEqual(answers[0][0], answers[1][0], answers[1][2][-2000:])
        return answers

    def same_json(self, *question):
        native, browser = self.ask(*question, "--json")
        one, other = json.loads(native[1]), json.loads(browser[1])
        self.assertEqual(list(differences(one, other)), [], question)
        return native[0], one

    def demo_sites(self):
        sites = sorted(str(path.relative_to(ROOT)) for path in (ROOT / "data" / "demo").glob("*.site.json"))
        self.assertGreater(len(sites), 1)
        return sites

    def test_proofs(self):
        for site in self.demo_sites():
            code, proof = self.same_json("prove", site)
            self.assertEqual(code, 1, site)  # the demo sites are not wholly proven
            self.assertGreater(sum(len(link["evidence"]) for chain in proof["results"]["chains"]
                                   for link in chain["links"].values()), 0, site)

    def test_levels_and_supplies(self):
        for site in self.demo_sites():
            self.same_json("levels", site)
            self.same_json("supply", site)

    def test_sights(self):
        patches = 0
        for site in self.demo_sites():
            _, sight = self.same_json("sight", site)
            self.assertGreater(sum(zone["witnessed_m2"] for zone in sight["results"]["zones"]), 0.0, site)
            patches += sum(len(zone["patches"]) for zone in sight["results"]["zones"])
        self.assertGreater(patches, 0)

    def test_decks(self):
        for site in self.demo_sites():
            native, browser = self.ask("netlist", site)
            self.assertEqual(native[0], 0)
            self.assertIn(".end", native[1])
            self.assertEqual(list(differences_of_lines(native[1], browser[1])), [])

    def test_shelf_rules_and_schema(self):
        self.same_json("parts")
        self.same_json("rules")
        native, browser = self.ask("schema")
        self.assertEqual(native, browser)

    def test_a_refusal(self):
        code, refusal = self.same_json("prove", "no-such.site.json")
        self.assertEqual(code, 2)
        self.assertEqual(len(refusal["results"]["problems"]), 1)

    def test_nothing_is_drawn_where_no_letters_can_be_set(self):
        with tempfile.TemporaryDirectory() as folder:
            for command, option in (("sight", "--plan"), ("sight", "--pictures"), ("clip", "--drawing")):
                path = pathlib.Path(folder) / "plan.svg"
                done = subprocess.run([NODE, PROGRAM, command, self.demo_sites()[0], option, str(path), "--json"], cwd=ROOT,
                                      capture_output=True, text=True, check=False)
                self.assertEqual(done.returncode, 2, done.stderr)
                self.assertEqual([one["code"] for one in json.loads(done.stdout)["results"]["problems"]], ["draws_nothing"])
                self.assertFalse(path.exists())

    def test_the_comparison_finds_differences(self):
        self.assertEqual(list(differences({"a": [1.0, None, "x"]}, {"a": [1.0 + 1e-12, None, "x"]})), [])
        for other in ({"a": [1.0 + 1e-8, None, "x"]}, {"a": [1.0, 0, "x"]}, {"a": [1.0, None, "y"]}, {"a": [1.0, None]},
                      {"b": [1.0, None, "x"]}):
            self.assertEqual(len(list(differences({"a": [1.0, None, "x"]}, other))), 1, other)
        self.assertEqual(list(differences_of_lines("R1 a b 5600.0", "R1 a b 5600")), [])
        for other in ("R1 a b 5600.1", "R2 a b 5600", "R1 a c 5600", "R1 a b 5600\n.end"):
            self.assertEqual(len(list(differences_of_lines("R1 a b 5600", other))), 1, other)


if __name__ == "__main__":
    ROOT, NATIVE, NODE, PROGRAM = (pathlib.Path(argument) for argument in sys.argv[1:5])
    unittest.main(argv=sys.argv[:1])
