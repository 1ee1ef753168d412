#!/usr/bin/env python3
"""The engine of a page answers as the command does, before and after edits.

  engine_test.py ROOT NATIVE ENGINE node NODE
  engine_test.py ROOT NATIVE ENGINE chromium CHROMIUM

ENGINE is the folder of engine.mjs. Every question is put to sessions on every demo site and to the command; after a
patch the command reads a file that was patched here, in Python, by operations of RFC 6902. answers.py tells what may
differ. In Chromium the page comes from a server on the loopback.
"""
import copy
import functools
import http.server
import json
import os
import pathlib
import subprocess
import sys
import tempfile
import threading
import unittest

import jsonschema

from answers import differences, differences_of_lines

ROOT, NATIVE, ENGINE, WHERE, MACHINE = None, None, None, None, None
HERE = pathlib.Path(__file__).parent
SECONDS = 1200

# (question, command line). SITE stands for the file.
EVERYWHERE = [
    ({"command": "check"}, ["check", "SITE"]),
    ({"command": "prove"}, ["prove", "SITE"]),
    ({"command": "prove", "links": ["trigger", "loop"], "zone": "2"}, ["prove", "SITE", "--links", "loop,trigger", "--zone", "2"]),
    ({"command": "levels", "zone": "2"}, ["levels", "SITE", "--zone", "2"]),
    ({"command": "supply"}, ["supply", "SITE"]),
    ({"command": "faults"}, ["faults", "SITE"]),
    ({"command": "sight", "zone": "3"}, ["sight", "SITE", "--zone", "3"]),
    ({"command": "netlist"}, ["netlist", "SITE"]),
    ({"command": "terminal"}, ["terminal", "SITE"]),
    ({"command": "levels", "zone": "900"}, ["levels", "SITE", "--zone", "900"]),
]
ONCE = [
    ({"command": "levels"}, ["levels", "SITE"]),  # same_answers_test.py asks it of the large sites, which takes minutes
    ({"command": "levels", "condition": "mains", "yield": True}, ["levels", "SITE", "--condition", "mains", "--yield"]),
    ({"command": "terminal", "open": ["4.98V"], "over": ["5k6/1%=2.49V"], "meter": "10M/1%", "error": "0.5%+3", "eol": ["5k6/1%"]},
     ["terminal", "--open", "4.98V", "--over", "5k6/1%=2.49V", "--meter", "10M/1%", "--error", "0.5%+3", "--eol", "5k6/1%"]),
    ({"command": "terminal", "short": ["much"]}, ["terminal", "--short", "much"]),
    ({"command": "remedies"}, ["remedies", "SITE"]),
    ({"command": "parts"}, ["parts"]),
    ({"command": "parts", "kind": "relay", "id": "none_such"}, ["parts", "relay", "--id", "none_such"]),
    ({"command": "rules"}, ["rules"]),
    ({"command": "schema"}, ["schema"]),
    ({"command": "schema", "format": "parts", "field": "/parts/*/kind"}, ["schema", "parts", "--field", "/parts/*/kind"]),
    ({"command": "schema", "field": "/zones/z/sound"}, ["schema", "--field", "/zones/z/sound"]),
]
AFTER_AN_EDIT = [EVERYWHERE[place] for place in (0, 1, 3, 4, 6)]
SCENE = ("cameras", "walls", "blocks")  # what an edit of the scene changes


def patched(document, operations):
    """The document after add, remove and replace of members of objects (RFC 6902); objects on the way are made."""
    document = copy.deepcopy(document)
    for operation in operations:
        *way, last = [token.replace("~1", "/").replace("~0", "~") for token in operation["path"].split("/")[1:]]
        target = functools.reduce(lambda object, key: object.setdefault(key, {}), way, document)
        if operation["op"] == "remove":
            del target[last]
        else:
            assert operation["op"] in ("add", "replace"), operation
            target[last] = operation["value"]
    document["revision"] += 1
    return document


def edits_of(root):
    """name of a demo site -> the operations of some of its faults: the first two, and one of each part of the scene."""
    edits, of_the_scene = {}, {}
    for path in sorted((root / "data/demo/faults").glob("*.fault.json")):
        fault = json.loads(path.read_text(encoding="utf-8"))
        operations = fault["patch"]
        plain = all(operation["op"] in ("add", "remove", "replace") for operation in operations)
        if plain and not any(token.isdigit() or token == "-" for operation in operations for token in operation["path"].split("/")):
            name, part = f"data/demo/{fault['scenario']}.site.json", operations[0]["path"].split("/")[1]
            if part in SCENE:
                of_the_scene.setdefault(name, {}).setdefault(part, operations)
            elif len(edits.setdefault(name, [])) < 2:
                edits[name].append(operations)
    return {name: [*of_the_site, *of_the_scene.get(name, {}).values()] for name, of_the_site in edits.items()}


def without_lines(value):
    """A state that came from a patch has no text: the lines of its notes are 0."""
    if isinstance(value, list):
        return [without_lines(one) for one in value]
    if isinstance(value, dict):
        return {key: 0 if key in ("line", "column") else without_lines(one) for key, one in value.items()}
    return value


class Plot:
    """The script to play, and beside each step the texts that it is held to."""

    def __init__(self, scratch):
        self.scratch, self.script, self.wanted = scratch, [], []
        edits = edits_of(ROOT)
        for path in sorted((ROOT / "data/demo").glob("*.site.json")):
            name = str(path.relative_to(ROOT))
            if name in edits:
                self.scene(name, EVERYWHERE, edits[name])
            else:  # a large site, whose faults would take a page's single thread too long for a test
                self.scene(name, [asked for asked in EVERYWHERE if asked[1][0] in ("check", "prove", "supply")], [[
                    {"op": "replace", "path": "/zones/z1/loop/eol_ohm", "value": 4700}]])
        self.scene("docs/guide/kiosk.site.json", EVERYWHERE + ONCE, [[
            {"op": "replace", "path": "/parts/panel_8/name", "value": "Panel \u2192 as it is"},
            {"op": "remove", "path": "/triggers/door_trigger"},
            {"op": "add", "path": "/areas/attic", "value": {"name": "Attic"}}]])
        self.scene("docs/guide/old-panel.site.json", EVERYWHERE, [])

    def command(self, line, name, folder=None):
        done = subprocess.run([NATIVE, *[name if word == "SITE" else word for word in line], "--json"], cwd=folder or ROOT,
                              capture_output=True, text=True, check=False, timeout=SECONDS)
        assert done.returncode in (0, 1, 2), done.stderr
        return done.stdout

    def scene(self, name, questions, edits):
        text = (ROOT / name).read_text(encoding="utf-8")
        steps, wanted = [], []
        for question, line in questions:
            steps.append({"ask": question})
            wanted.append((line, self.command(line, name), False))
        document = json.loads(text)
        for operations in edits:
            folder = self.scratch / str(len(self.script)) / str(len(steps))
            (folder / name).parent.mkdir(parents=True)
            after = patched(document, operations)
            (folder / name).write_text(json.dumps(after), encoding="utf-8")
            steps.append({"operations": operations})
            wanted.append(("patch", None, None))
            for question, line in AFTER_AN_EDIT:
                steps.append({"ask": question})
                wanted.append((line, self.command(line, name, folder), True))
            steps += [{"undo": True}, {"text": True}]
            wanted += [("undo", None, None), ("content", document, None)]
            document = {**document, "revision": after["revision"] + 1}
        self.script.append({"name": name, "text": text, "steps": steps})
        self.wanted.append(wanted)


class Page(http.server.BaseHTTPRequestHandler):
    """The page, the engine, the script; and what the page tells."""
    KINDS = {".mjs": "text/javascript", ".wasm": "application/wasm", ".html": "text/html", ".json": "application/json"}
    script, told, done = b"", None, threading.Event()

    def do_GET(self):
        name = self.path.lstrip("/")
        path = ENGINE / name[len("engine/"):] if name.startswith("engine/") else HERE / name
        if name != "script.json" and not (path.is_file() and path.suffix in self.KINDS and ".." not in name):
            self.send_error(404)
            return
        body = Page.script if name == "script.json" else path.read_bytes()
        self.send_response(200)
        self.send_header("Content-Type", self.KINDS[pathlib.Path(name).suffix])
        self.send_header("Content-Length", str(len(body)))
        self.end_headers()
        self.wfile.write(body)

    def do_POST(self):
        Page.told = json.loads(self.rfile.read(int(self.headers["Content-Length"])))
        self.send_response(204)
        self.end_headers()
        Page.done.set()

    def log_message(self, *_):
        pass


def played_in_node(script):
    done = subprocess.run([MACHINE, HERE / "play_node.mjs", ENGINE], input=json.dumps(script), capture_output=True, text=True,
                          check=False, timeout=SECONDS)
    assert done.returncode == 0, done.stderr[-3000:]
    return json.loads(done.stdout)


def played_in_chromium(script):
    Page.script = json.dumps(script).encode()
    server = http.server.ThreadingHTTPServer(("127.0.0.1", 0), Page)
    threading.Thread(target=server.serve_forever, daemon=True).start()
    with tempfile.TemporaryDirectory(ignore_cleanup_errors=True) as profile, tempfile.TemporaryFile() as log:
        line = [MACHINE, "--headless=new", "--disable-gpu", "--no-first-run", "--disable-background-networking", "--disable-extensions",
                "--disable-component-update", f"--user-data-dir={profile}", f"http://127.0.0.1:{server.server_port}/play.html"]
        if os.geteuid() == 0:
            line.insert(1, "--no-sandbox")  # its sandbox refuses to be started by root
        browser = subprocess.Popen(line, stdout=log, stderr=log)
        try:
            finished = Page.done.wait(SECONDS)
        finally:
            browser.terminate()
            browser.wait(60)
            server.shutdown()
            server.server_close()
        log.seek(0)
        assert finished, log.read().decode(errors="replace")[-3000:]
    assert "fault" not in Page.told, Page.told["fault"]
    return Page.told


class EngineOfAPage(unittest.TestCase):
    @classmethod
    def setUpClass(cls):
        cls.scratch = tempfile.TemporaryDirectory()
        cls.plot = Plot(pathlib.Path(cls.scratch.name))
        kiosk = next(scene for scene in cls.plot.script if "kiosk" in scene["name"])
        rounds = {"scene": {"name": "kiosk", "text": kiosk["text"]}, "question": {"command": "supply"}, "count": 150}
        script = {"script": cls.plot.script, "rounds": rounds}
        cls.told = played_in_node(script) if WHERE == "node" else played_in_chromium(script)

    @classmethod
    def tearDownClass(cls):
        cls.scratch.cleanup()

    def steps(self):
        """(what, answer, wanted, after an edit) of every step of every scene."""
        for scene, wanted, answers in zip(self.plot.script, self.plot.wanted, self.told["answers"]):
            self.assertIn("session", json.loads(answers[0])["results"], scene["name"])
            self.assertEqual(len(answers), len(wanted) + 2, scene["name"])
            for (what, text, edited), answer in zip(wanted, answers[1:-1]):
                yield scene["name"], what, answer, text, edited
            self.assertEqual(json.loads(answers[-1])["results"], {"command": "close"})

    def test_answers_are_the_commands(self):
        compared = same_bytes = cures = 0
        for name, what, answer, text, edited in self.steps():
            if not isinstance(what, list):
                continue
            compared += 1
            same_bytes += answer == text
            if what[0] == "sight":
                cures += sum(len(zone["cures"]) for zone in json.loads(text)["results"].get("zones", []))
            if answer == text:
                continue
            one, other = json.loads(text), json.loads(answer)
            if edited:
                one, other = without_lines(one), without_lines(other)
            if what[0] == "netlist" and "deck" in one["results"]:
                self.assertEqual(list(differences_of_lines(one["results"].pop("deck"), other["results"].pop("deck"))), [], name)
            self.assertEqual(list(differences(one, other))[:5], [], (name, what))
        print(f"{WHERE}: {compared} answers, {same_bytes} of them the same bytes; {self.told.get('agent', '')}", flush=True)
        self.assertGreater(compared, 40)
        self.assertGreater(cures, 0)

    def test_patches_are_made_and_undone(self):
        patches = contents = 0
        for name, what, answer, document, _ in self.steps():
            if what in ("patch", "undo"):
                self.assertIn("undo", json.loads(answer)["results"], (name, answer[:2000]))
                patches += 1
            elif what == "content":
                content, before = json.loads(answer), dict(document)
                self.assertEqual(content.pop("revision"), before.pop("revision") + 2, name)
                self.assertEqual(content, before, name)
                contents += 1
        self.assertGreater(patches, 6)
        self.assertGreater(contents, 3)

    def test_answers_are_as_their_schema_says(self):
        schema = json.loads((ROOT / "data/schema/results.schema.json").read_text(encoding="utf-8"))
        validator = jsonschema.Draft202012Validator(schema)
        for answers in self.told["answers"]:
            for answer in answers[1:]:
                value = json.loads(answer)
                if value.get("format") == "zoneproof-results" and value["results"]["command"] in ("apply", "close", "check", "terminal"):
                    self.assertEqual([fault.message[:300] for fault in validator.iter_errors(value)][:2], [])

    def test_memory_is_given_back(self):
        self.assertEqual(self.told["memory"]["last"], self.told["memory"]["first"])

    def test_promises_of_the_wrapper(self):
        self.assertGreater(len(self.told["promises"]), 5)
        for promise, kept in self.told["promises"].items():
            self.assertTrue(kept, promise)


if __name__ == "__main__":
    ROOT, NATIVE, ENGINE = (pathlib.Path(argument).resolve() for argument in sys.argv[1:4])
    WHERE, MACHINE = sys.argv[4:6]
    unittest.main(argv=sys.argv[:1])
