#!/usr/bin/env python3
"""A proof is the same in every language: languages_test.py ROOT PROGRAM.

What commands print of the demo sites is compared with what they print in English: as JSON every key, number and word
is the same and only sentences differ; as text the same numbers stand in it, the decimal sign apart, and nothing is
wider than the screen.
"""
import collections
import functools
import json
import os
import pathlib
import re
import subprocess
import sys
import unittest

ROOT, PROGRAM = pathlib.Path(sys.argv[1]), sys.argv[2]
KILN, TERN = "data/demo/kiln-yard.site.json", "data/demo/tern-hollow.site.json"
LINES = [["prove", KILN, "--all"], ["prove", TERN], ["check", KILN], ["levels", KILN, "--zone", "6"], ["supply", KILN],
         ["faults", KILN, "--zone", "8"], ["sight", KILN], ["network", KILN, "--all"], ["clip", KILN],
         ["storm", KILN, "--runs", "3"], ["parts"], ["rules", "common_practice"], ["schema", "--field", "/zones/*/loop"],
         ["remedies", KILN, "--zone", "7", "--all"],
         ["terminal", "--open", "4.98V", "--over", "5k6/1%=2.49V", "--meter", "10M/1%", "--error", "0.5%+3", "--eol", "5k6/1%"]]
# Members of results that are sentences; "arguments" are what sentences are made of. A remedy names the things that it adds.
SENTENCES = {"text", "remedy", "arguments", "limit_source", "log", "expects"}
SENTENCES_OF = {"remedies": SENTENCES | {"name"}}


@functools.cache
def printed_by(language, *arguments):
    environment = {name: value for name, value in os.environ.items() if name != "ZONEPROOF_LANGUAGE"}
    done = subprocess.run([PROGRAM, *arguments, "--language", language], cwd=ROOT, capture_output=True, text=True,
                          env=environment, check=False)
    return done.returncode, done.stdout + done.stderr


def printed(language, arguments):
    return printed_by(language, *arguments)


def numbers(text):
    """Every number of a text, each with how often it stands there."""
    return collections.Counter(re.findall(r"\d+(?:[.,]\d+)*", re.sub(r"(?<=\d),(?=\d)", ".", text)))


def without(keys, value):
    if isinstance(value, dict):
        return {key: without(keys, one) for key, one in value.items() if key not in keys}
    return [without(keys, one) for one in value] if isinstance(value, list) else value


class German(unittest.TestCase):
    def test_results_differ_in_sentences_only(self):
        for line in LINES:
            asked = [word for word in line if word != "--all"] + ["--json"]
            keys = SENTENCES_OF.get(line[0], SENTENCES)
            (code, english), (own_code, german) = printed("en", asked), printed("de", asked)
            self.assertEqual(own_code, code, line)
            self.assertEqual(without(keys, json.loads(german)), without(keys, json.loads(english)), line)

    def test_a_print_has_the_numbers_of_the_english_one(self):
        for line in LINES:
            (code, english), (own_code, german) = printed("en", line), printed("de", line)
            self.assertEqual(own_code, code, line)
            self.assertEqual(numbers(german), numbers(english), line)
            self.assertNotEqual(german, english, line)
            self.assertLessEqual(max(map(len, german.splitlines())), 100, line)

    def test_a_proof_has_the_verdicts_of_the_english_one(self):
        words = {"proven": "bewiesen", "thin": "knapp", "broken": "gebrochen", "unanswered": "offen"}
        english, german = printed("en", ["prove", KILN, "--all"])[1], printed("de", ["prove", KILN, "--all"])[1]
        for word, own in words.items():
            beginning = rf"(?m)^  {{}} +\S"
            self.assertEqual(len(re.findall(beginning.format(own), german)), len(re.findall(beginning.format(word), english)), word)
        self.assertGreater(len(re.findall(r"(?m)^  bewiesen ", german)), 10)

    def test_the_deck_of_numbers_is_the_same(self):
        english, german = printed("en", ["netlist", KILN])[1], printed("de", ["netlist", KILN])[1]
        self.assertEqual(german.splitlines()[1:], english.splitlines()[1:])


if __name__ == "__main__":
    unittest.main(argv=sys.argv[:1])
