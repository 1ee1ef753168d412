#!/usr/bin/env python3
"""Many editors at a server that is killed again and again: killed_test.py SOURCE PROGRAM [postgresql].

Editors change sites at the same time, several at each; the server is killed (SIGKILL) at random moments and started anew at
the same port. An editor who got no answer sends the same edit again, one who came behind makes it on the last revision. In
the end every edit that was acknowledged is a revision, once, in the order told, and the book is sound. ZONEPROOF_EDITORS
and ZONEPROOF_KILLS say how many: a few by themselves, 200 and 50 to be sure.
"""
import collections
import http.client
import json
import os
import pathlib
import random
import subprocess
import sys
import tempfile
import threading
import time

from running import Checks, Server

SOURCE, PROGRAM = pathlib.Path(sys.argv[1]), str(pathlib.Path(sys.argv[2]).resolve())
STORE = sys.argv[3] if len(sys.argv) > 3 else "sqlite"
EDITORS = int(os.environ.get("ZONEPROOF_EDITORS", "24"))
KILLS = int(os.environ.get("ZONEPROOF_KILLS", "3"))
EDITORS_A_SITE = 8
LIVES_S = (0.3, max(1.5, EDITORS / 40))  # how long the server lives, at random: long enough that everybody has a turn
PATIENCE_S = 120.0
check = Checks()


class Editor(threading.Thread):
    """One person: edits an area of their own, one edit after another, until told to stop."""

    def __init__(self, server, number, stop):
        super().__init__(daemon=True)
        self.server, self.number, self.stop = server, number, stop
        self.site = f"site_{number // EDITORS_A_SITE}"
        self.acknowledged = []  # (edit, revision)
        self.sent_again = self.behind = self.given_up = 0
        self.fault = None

    def run(self):
        try:
            count = 0
            while not self.stop.is_set():
                count += 1
                self.keep(f"e{self.number}-{count}", [{"op": "add", "path": f"/areas/area_{self.number}", "value": {"name": f"Room {count}"}}])
        except Exception as fault:  # told at the end: a thread has nobody to tell
            self.fault = f"{type(fault).__name__}: {fault}"

    def keep(self, edit, operations):
        visitor = None
        until = time.monotonic() + PATIENCE_S
        while time.monotonic() < until:
            try:
                visitor = visitor or self.server.visitor()
                answer = visitor.edit(self.site, edit, operations)
            except (OSError, http.client.HTTPException, json.JSONDecodeError):  # killed meanwhile
                self.sent_again += 1
                visitor = None
                time.sleep(0.05)
                continue
            if answer.status == 200:
                self.acknowledged.append((edit, answer.json()["revision"]["number"]))
                return
            if answer.status == 409:  # somebody else was first: made again on the last revision
                self.behind += 1
            elif answer.status in (401, 403):  # the visit died with the server
                visitor = None
            elif answer.status not in (429, 503):
                raise AssertionError(f"{edit}: {answer.status} {answer.body[:300]}")
        self.given_up += 1  # nothing was promised for it


def revisions(visitor, site):
    """Every revision of a site: edit -> number."""
    found, before = {}, None
    while True:
        page = visitor.ask("GET", f"/api/sites/{site}/revisions" + (f"?before={before}" if before else "")).json()["revisions"]
        for revision in page:
            check(revision["edit"] not in found, f"{site}: {revision['edit']} is there once")
            found[revision["edit"]] = revision["number"]
        if not page:
            return found
        before = min(revision["number"] for revision in page)


def held(server, editors):
    visitor = server.visitor()
    check(sum(len(editor.acknowledged) for editor in editors) > EDITORS, "everybody's worth of edits was kept")
    by_site = collections.defaultdict(list)
    for editor in editors:
        check(editor.fault is None, f"editor {editor.number}: {editor.fault}")
        by_site[editor.site].append(editor)
    for site, here in sorted(by_site.items()):
        kept = revisions(visitor, site)
        for editor in here:
            for edit, number in editor.acknowledged:
                check.same(kept.get(edit), number, f"{site}: the revision of {edit}")
        document = visitor.ask("GET", f"/api/sites/{site}").json()
        for editor in [one for one in here if one.acknowledged]:
            last = editor.acknowledged[-1][0].rpartition("-")[2]
            check(document["areas"][f"area_{editor.number}"]["name"] == f"Room {last}", f"{site}: the last edit of editor {editor.number} stands there")


def run(*options):
    draw = random.Random(20260301)
    with Server(PROGRAM, *options) as server:
        visitor = server.visitor()
        for number in range(0, EDITORS, EDITORS_A_SITE):
            made = visitor.ask("POST", "/api/sites", json_body={"demo": "kiln-yard", "id": f"site_{number // EDITORS_A_SITE}"})
            check.same(made.status, 201, "a site")
        stop = threading.Event()
        editors = [Editor(server, number, stop) for number in range(EDITORS)]
        for editor in editors:
            editor.start()
        for _ in range(KILLS):
            time.sleep(draw.uniform(*LIVES_S))
            server.process.kill()
            server.process.wait()
            server.process.stdout.close()
            server.start(server.port)
        time.sleep(LIVES_S[1])
        stop.set()
        for editor in editors:
            editor.join(2 * PATIENCE_S)
            check(not editor.is_alive(), f"editor {editor.number} came to an end")
        held(server, editors)
        check.same(server.end()[0], 0, "the program ends well")
        sound = subprocess.run([PROGRAM, "book", "check", "--book", str(server.book), *options], capture_output=True, text=True, check=False)
        check.same(sound.returncode, 0, f"the book is sound: {sound.stdout} {sound.stderr}")
    print(f"{EDITORS} editors, {KILLS} kills: {sum(len(one.acknowledged) for one in editors)} edits acknowledged, "
          f"{sum(one.sent_again for one in editors)} attempts without an answer, {sum(one.behind for one in editors)} behind another, {sum(one.given_up for one in editors)} given up after {PATIENCE_S:.0f} s")


def on_postgresql():
    sys.path.insert(0, str(SOURCE / "tests" / "book"))
    import on_postgresql as database  # the server that the tests of the book start as well
    folder_of_programs = database.programs()
    how, user = database.unprivileged()
    if folder_of_programs is None or how is None:
        print("PostgreSQL is not installed, or nobody without rights is there to run it")
        sys.exit(77)
    with tempfile.TemporaryDirectory(dir="/tmp", prefix="zp-pg-") as folder:
        server = database.Server(pathlib.Path(folder), folder_of_programs, how, user)
        try:
            run("--postgresql", server.connection())
        finally:
            server.stop()


if STORE == "postgresql":
    on_postgresql()
else:
    run()
check.done()
