#!/usr/bin/env python3
"""The house's own checks find what they are there for: each is shown a small tree with a fault."""
import json
import pathlib
import subprocess
import sys
import tempfile
import unittest

ROOT = pathlib.Path(__file__).resolve().parents[2]
sys.path.insert(0, str(ROOT / "tools"))
sys.dont_write_bytecode = True
import run_documented_commands  # noqa: E402


def tool(name, *arguments):
    done = subprocess.run([sys.executable, str(ROOT / "tools" / name), *map(str, arguments)],
                          capture_output=True, text=True, check=False)
    return done.returncode, done.stdout + done.stderr


class InATree(unittest.TestCase):
    def setUp(self):
        scratch = tempfile.TemporaryDirectory()
        self.addCleanup(scratch.cleanup)
        self.root = pathlib.Path(scratch.name)

    def write(self, path, text):
        file = self.root / path
        file.parent.mkdir(parents=True, exist_ok=True)
        file.write_text(text, encoding="utf-8")
        return file


class Dependencies(InATree):
    def setUp(self):
        super().setUp()
        self.write("CMakeLists.txt", "zoneproof_module(base)\nzoneproof_module(site DEPENDS base)\n")
        self.write("src/base/README.md", "# base: low\n")
        self.write("src/site/README.md", "# site: high\n")
        self.write("src/site/a.cpp", '#include "base/b.hpp"\n#include "messages/site.hpp"\n')

    def test_the_right_direction_passes(self):
        self.assertEqual(tool("dependencies.py", "check", self.root), (0, ""))

    def test_the_wrong_direction_is_named_with_its_line(self):
        self.write("src/base/b.hpp", '#pragma once\n#include "site/a.hpp"\n')
        code, words = tool("dependencies.py", "check", self.root)
        self.assertEqual(code, 1)
        self.assertIn("b.hpp:2: base may not use site", words)

    def test_a_folder_that_is_no_module_is_named(self):
        self.write("src/new/a.hpp", '#include "base/b.hpp"\n')
        code, words = tool("dependencies.py", "check", self.root)
        self.assertEqual(code, 1)
        self.assertIn("folder new is no module", words)

    def test_the_picture_must_be_drawn_again_after_a_change(self):
        (self.root / "docs").mkdir()
        self.assertEqual(tool("dependencies.py", "picture", self.root)[0], 0)
        self.assertEqual(tool("dependencies.py", "current", self.root)[0], 0)
        self.write("src/site/README.md", "# site: higher\n")
        self.assertEqual(tool("dependencies.py", "current", self.root)[0], 1)


class Messages(InATree):
    def faults(self, **changes):
        entry = {"severity": "error", "exit": 2, "http": 422, "arguments": {"path": "text"},
                 "says": "There is no {path}.", "remedy": "Look for it.", **changes}
        self.write("data/messages/en/base.json", json.dumps({"a_code": {k: v for k, v in entry.items() if v is not None}}))
        self.write("src/base/a.cpp", "say::a_code(x)")
        return tool("check_messages.py", self.root)

    def test_a_good_message_passes(self):
        self.assertEqual(self.faults(), (0, ""))

    def test_each_fault_of_style_is_found(self):
        for change in ({"says": "There is no {path}"}, {"says": "There is no {path}!"}, {"remedy": None},
                       {"remedy": "Please look."}, {"says": "no {path}."}, {"exit": 0}):
            self.assertEqual(self.faults(**change)[0], 1, change)

    def test_a_message_that_nobody_says_is_found(self):
        self.faults()
        self.write("src/base/a.cpp", "say::a_code_of_another_name(x)")
        self.assertEqual(tool("check_messages.py", self.root)[0], 1)

    def generated(self, **changes):
        entry = {"severity": "error", "arguments": {"path": "text"}, "says": "No {path}.", **changes}
        self.write("messages/en/base.json", json.dumps({"a_code": entry}))
        (self.root / "out").mkdir(exist_ok=True)
        return tool("messages.py", self.root / "messages", self.root / "out")[0]

    def test_the_generator_refuses_what_does_not_fit(self):
        self.assertEqual(self.generated(), 0)
        self.assertIn("a_code(std::string path)", (self.root / "out" / "base.hpp").read_text(encoding="utf-8"))
        for change in ({"says": "No {other}."}, {"arguments": {"path": "word"}}, {"severity": "fatal"},
                       {"arguments": {"path": "text", "unused": "text"}}):
            self.assertEqual(self.generated(**change), 1, change)


class Translations(InATree):
    def setUp(self):
        super().setUp()
        entries = {"a_code": {"severity": "error", "arguments": {"path": "text"}, "says": "There is no {path}.", "remedy": "Look."},
                   "b_code": {"severity": "label", "says": "on"}}
        self.write("data/messages/en/base.json", json.dumps(entries))
        (self.root / "out").mkdir()

    def generated(self, entries, name="base.json"):
        self.write(f"data/messages/de/{name}", json.dumps(entries))
        return tool("messages.py", self.root / "data/messages", self.root / "out")

    def test_sentences_stand_in_the_order_of_the_catalogue_and_what_is_missing_is_empty(self):
        self.assertEqual(self.generated({"b_code": {"says": "ein"}}), (0, ""))
        rows = (self.root / "out/translations.inc").read_text(encoding="utf-8").splitlines()
        self.assertEqual(rows[1:3], ['{"", ""},', '{"ein", ""},'])
        self.assertEqual((self.root / "out/languages.inc").read_text(encoding="utf-8").splitlines()[1:], ['"en",', '"de",'])

    def test_the_generator_refuses_what_english_does_not_have(self):
        good = {"says": "Es gibt kein {path}.", "remedy": "Suchen."}
        self.assertEqual(self.generated({"a_code": good}), (0, ""))
        for code, entry in (("c_code", good), ("a_code", {"says": good["says"]}), ("a_code", {**good, "says": "Kein {ort}."}),
                            ("a_code", {**good, "remedy": "{path} suchen."}), ("a_code", {**good, "severity": "note"})):
            self.assertEqual(self.generated({code: entry})[0], 1, entry)
        self.assertEqual(self.generated({}), (0, ""))
        self.assertEqual(self.generated({"a_code": good}, "site.json")[0], 1)

    def checked(self, entries, allowed=None):
        self.write("data/messages/de/base.json", json.dumps(entries))
        self.write("tools/translations_allowed.json", json.dumps({"de": allowed or {}}))
        return tool("translations.py", "check", self.root)

    def test_each_fault_of_a_sentence_is_found(self):
        good = {"a_code": {"says": "Es gibt kein {path}.", "remedy": "Suchen."}, "b_code": {"says": "an"}}
        self.assertEqual(self.checked(good)[0], 0)
        for change in ({"says": "There is no {path}."}, {"says": "Es ist the {path}."}, {"says": "Es gibt keines."},
                       {"says": "Es gibt kein {path}"}, {"says": "Es gibt kein {path}!"}, {"says": "es gibt kein {path}."},
                       {"remedy": "Bitte suchen."}, {"remedy": "Dann suchen Sie."}, {"remedy": ""}):
            self.assertEqual(self.checked({**good, "a_code": {**good["a_code"], **change}})[0], 1, change)
        self.assertEqual(self.checked({**good, "b_code": {"says": "on"}})[0], 1)
        self.assertEqual(self.checked({**good, "b_code": {"says": "on"}}, {"same": ["b_code"]})[0], 0)
        self.assertEqual(self.checked(good, {"same": ["b_code"]})[0], 1, "the list is not kept")

    def test_what_is_missing_is_told_and_fails_where_it_is_too_much(self):
        self.assertEqual(self.checked({}, {"missing": {"*": 1}})[0], 1)
        code, words = self.checked({}, {"missing": {"base.json": 2}})
        self.assertEqual(code, 0)
        self.assertIn("2 of base.json said in English: a_code, b_code", words)
        self.assertIn("There is no {path}.", tool("translations.py", "missing", self.root)[1])


class DocumentedCommands(InATree):
    def check(self, block):
        program = self.write("program", "#!/bin/sh\nprintf 'one\\ntwo\\nthree\\n'\nexit \"$1\"\n")
        program.chmod(0o755)
        document = self.write("README.md", f"Words.\n\n```console\n{block}\n```\n")
        return run_documented_commands.faults_of(document, self.root, program)

    def test_what_agrees_passes(self):
        for block in ("$ zoneproof 0", "$ zoneproof 3  # exit 3", "$ zoneproof 0\none\ntwo\nthree",
                      "$ zoneproof 0\n...\nthree", "$ zoneproof 0\none\n...", "$ zoneproof \\\n> 0\none\n...\nthree",
                      "$ zoneproof 0 > kept\n$ cat kept\none\n..."):
            count, faults = self.check(block)
            self.assertGreater(count, 0)
            self.assertEqual(faults, [], block)

    def test_what_differs_is_found(self):
        for block in ("$ zoneproof 1", "$ zoneproof 0  # exit 1", "$ zoneproof 0\none\ntwo",
                      "$ zoneproof 0\n...\ntwo", "$ zoneproof 0\nother\n..."):
            self.assertEqual(len(self.check(block)[1]), 1, block)


class Packages(unittest.TestCase):
    def test_each_line_has_a_name_known_tags_and_a_purpose(self):
        for line in (ROOT / "packages.txt").read_text(encoding="utf-8").splitlines():
            if not line.startswith("#"):
                name, tags, purpose = line.split(None, 2)
                self.assertTrue(set(tags.split(",")) <= {"run", "test", "bench", "webassembly", "tidy", "fuzz"}, name)
                self.assertTrue(purpose)

    def test_the_packages_of_several_tags_are_those_of_each(self):
        def packages(*tags):
            script = '. tools/house.sh; house_packages "$@"'
            done = subprocess.run(["bash", "-c", script, "bash", *tags], cwd=ROOT, capture_output=True, text=True, check=True)
            return set(done.stdout.split())
        self.assertIn("ngspice", packages("test"))
        self.assertNotIn("emscripten", packages("test"))
        self.assertEqual(packages("test", "webassembly"), packages("test") | packages("webassembly"))
        self.assertEqual(packages("webass"), set())

    def install_without_right(self, more=""):
        script = f"""
            . tools/house.sh
            id() {{ echo 1000; }}
            sudo() {{ return 1; }}
            dpkg-query() {{ [ "${{*: -1}}" != libfmt-dev ] && echo installed; }}
            {more}
            house_install run"""
        done = subprocess.run(["bash", "-c", script], cwd=ROOT, capture_output=True, text=True, check=False)
        self.assertEqual(done.returncode, 1)
        return done.stderr

    def test_without_the_right_to_install_the_missing_are_named_with_the_command(self):
        self.assertIn("  sudo apt-get install --no-install-recommends libfmt-dev\n", self.install_without_right())

    def test_where_there_is_no_sudo_nobody_is_told_to_use_it(self):
        words = self.install_without_right('command() { [ "$2" != sudo ] && builtin command "$@"; }')
        self.assertIn("  apt-get install --no-install-recommends libfmt-dev\n", words)
        self.assertNotIn("sudo", words)


if __name__ == "__main__":
    unittest.main()
