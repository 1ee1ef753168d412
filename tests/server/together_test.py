#!/usr/bin/env python3
"""Several people at one site: together_test.py SOURCE PROGRAM. Live events, edits that cross, the same answers as the
command, long work that stands in nobody's way, and an end that leaves nothing unanswered."""
import json
import pathlib
import signal
import subprocess
import sys
import threading
import time

from running import Checks, Events, Server

SOURCE, PROGRAM = pathlib.Path(sys.argv[1]), str(pathlib.Path(sys.argv[2]).resolve())
check = Checks()
DEMOS = ("kiln-yard", "kiln-yard-corrected", "saltmarsh", "tern-hollow")
QUESTIONS = ({"command": "check"}, {"command": "prove"}, {"command": "prove", "links": ["loop", "trigger"]}, {"command": "levels"},
             {"command": "supply"}, {"command": "network"}, {"command": "sight"}, {"command": "clip"}, {"command": "netlist"},
             {"command": "remedies"}, {"command": "storm", "runs": "50"})


# Every question of the site with every kind of thing in it; of the others what takes seconds is asked once.
ASKED = {"kiln-yard": QUESTIONS, "kiln-yard-corrected": QUESTIONS[1:2], "saltmarsh": QUESTIONS[:2], "tern-hollow": QUESTIONS[:7]}
ASKED_AFTER_AN_EDIT = {"kiln-yard": QUESTIONS[:3], "kiln-yard-corrected": QUESTIONS[1:2], "saltmarsh": (), "tern-hollow": QUESTIONS[1:2]}


def as_command(question, path):
    options = []
    for key, value in question.items():
        if key != "command":
            options += ["--" + key, ",".join(value) if isinstance(value, list) else value]
    return [PROGRAM, question["command"], path, *options, "--json"]


def same_as_command(server, visitor):
    """Byte for byte; and after an edit the same as the command says of the file that is fetched."""
    for demo in DEMOS:
        site = demo.replace("-", "_")
        check.same(visitor.ask("POST", "/api/sites", json_body={"demo": demo, "id": site}).status, 201, demo)
        questions = ASKED[demo]
        for edited in (False, True):
            if edited:
                check.same(visitor.edit(site, f"{site}-named", [{"op": "replace", "path": "/name", "value": "Named anew"}]).status, 200, "an edit")
                questions = ASKED_AFTER_AN_EDIT[demo]
            name = f"{site}.site.json"
            (server.folder / name).write_bytes(visitor.ask("GET", f"/api/sites/{site}").body)
            for question in questions:
                command = subprocess.run(as_command(question, name), cwd=server.folder, capture_output=True)
                answer = visitor.ask("POST", f"/api/sites/{site}/ask", json_body=question)
                check(answer.body == command.stdout, f"{demo} {question} {'edited' if edited else ''}: {answer.body[:200]} {command.stdout[:200]}")
                again = visitor.ask("POST", f"/api/sites/{site}/ask", json_body=question)
                check(again.body == answer.body, f"{demo} {question}: the same again")
    german = visitor.ask("POST", "/api/sites/kiln_yard/ask", json_body={"command": "prove"}, headers={"Accept-Language": "de"}).body
    command = subprocess.run([PROGRAM, "prove", "kiln_yard.site.json", "--json", "--language", "de"], cwd=server.folder, capture_output=True)
    check(german == command.stdout, "the same in German")


def live(server, first):
    second = server.visitor()
    events = Events(first, "kiln_yard")
    event, hello = events.next()
    check.same(event, "hello", "a stream begins with hello")
    number = hello["revision"]["number"]
    check.same(events.next()[1]["people"][0]["pages"], 1, "one page is there")
    other = Events(second, "kiln_yard")
    check.same(events.until("people")["people"][0]["pages"], 2, "another comes")
    answer = second.edit("kiln_yard", "live-1", [{"op": "replace", "path": "/name", "value": "Told at once"}], why="to tell")
    for stream in (events, other):
        told = stream.until("revision")
        check.same((told["number"], told["edit"], told["why"]), (number + 1, "live-1", "to tell"), "both are told of the edit")
        check.same(told["sha256"], answer.json()["revision"]["sha256"], "with its SHA-256")
    other.close()
    check.same(events.until("people")["people"][0]["pages"], 1, "the other leaves")
    work = first.ask("POST", "/api/sites/kiln_yard/handover", json_body={}).json()["work"]
    begun = time.monotonic()
    check.same(second.edit("kiln_yard", "live-2", [{"op": "replace", "path": "/name", "value": "While it works"}]).status, 200, "an edit")
    check(time.monotonic() - begun < 2, "long work does not hold an edit up")
    done = events.until("work", lambda data: data["number"] == work and data["state"] == "done")
    check(done and done["file"], "the work is told to be done, with its file")
    archive = server.folder / "handover.zip"
    archive.write_bytes(first.ask("GET", done["file"]).body)
    import zipfile
    with zipfile.ZipFile(archive) as files:
        check.same(files.testzip(), None, "the archive is whole")
        check(files.read("handover.pdf").startswith(b"%PDF"), "and holds the paper")
        check(len([name for name in files.namelist() if name.startswith("tables/")]) > 3, "and the tables")
    stopped = first.ask("POST", "/api/sites/saltmarsh/handover", json_body={}).json()["work"]
    check.same(first.ask("DELETE", f"/api/work/{stopped}").status, 204, "long work is stopped")
    for _ in range(300):
        state = first.ask("GET", f"/api/work/{stopped}").json()
        if state["state"] == "stopped":
            break
        time.sleep(0.1)
    check.same((state["state"], state["file"]), ("stopped", None), "and leaves nothing")
    events.close()


def crossing(server, visitor):
    """Eight people edit at once, each again and again until their edit is kept: none is lost, none is kept twice."""
    people, edits = 8, 5
    kept = []

    def write(person):
        mine = server.visitor()
        for number in range(edits):
            operations = [{"op": "add", "path": f"/areas/a_{person}_{number}", "value": {"name": f"Area {person} {number}"}}]
            while True:
                answer = mine.edit("tern_hollow", f"cross-{person}-{number}", operations)
                if answer.status == 200:
                    kept.append(answer.json()["revision"]["number"])
                    again = mine.edit("tern_hollow", f"cross-{person}-{number}", operations)
                    check(again.json()["repeated"] and again.json()["revision"]["number"] == answer.json()["revision"]["number"], "again is the same")
                    other = mine.edit("tern_hollow", f"cross-{person}-{number}", [{"op": "remove", "path": "/areas/none_there"}])
                    check.same((other.status, other.codes()), (409, ["book_edit_id_used"]), "another edit under the same id is told, not swallowed")
                    break
                if answer.status != 409:
                    check(False, f"an edit is kept or behind: {answer.body[:300]}")
                    return

    threads = [threading.Thread(target=write, args=(person,)) for person in range(people)]
    [thread.start() for thread in threads]
    [thread.join() for thread in threads]
    check.same(len(set(kept)), people * edits, "every edit is a revision of its own")
    areas = visitor.ask("GET", "/api/sites/tern_hollow").json()["areas"]
    check.same(len([name for name in areas if name.startswith("a_")]), people * edits, "and all of them are there")
    history = visitor.ask("GET", "/api/sites/tern_hollow/revisions").json()["revisions"]
    check.same([one["number"] for one in history], list(range(history[0]["number"], history[-1]["number"] - 1, -1)), "without gaps")


def ending(server, visitor):
    """SIGTERM while a question is being answered: it is answered, streams end, nothing new is taken, the edits are there."""
    events = Events(visitor, "tern_hollow")
    events.next()
    check.same(visitor.edit("tern_hollow", "last", [{"op": "replace", "path": "/name", "value": "Kept"}]).status, 200, "an edit")
    answers = []
    asking = threading.Thread(target=lambda: answers.append(visitor.ask("POST", "/api/sites/tern_hollow/ask", json_body={"command": "levels"})))
    asking.start()
    time.sleep(0.4)  # seconds of work, and well below what an ending waits for
    check(asking.is_alive(), "a question is under way")
    server.process.send_signal(signal.SIGTERM)
    asking.join(30)
    check(answers and answers[0].status == 200 and answers[0].json()["results"]["command"] == "levels", "it is answered all the same")
    status, said = server.end()
    check.same(status, 0, f"and the program ends well: {said}")
    while events.next()[0] is not None:
        pass
    check(True, "streams end")
    server.start()
    check.same(server.visitor().ask("GET", "/api/sites/tern_hollow").json()["name"], "Kept", "what was kept is there again")
    begun = time.monotonic()
    check.same(server.end()[0], 0, "an idle program ends")
    check(time.monotonic() - begun < 2, "at once")


def killed(server):
    """Killed, and not ended: what was told to be kept is kept."""
    server.start()
    visitor = server.visitor()
    check.same(visitor.edit("saltmarsh", "before-death", [{"op": "replace", "path": "/name", "value": "Outlived"}]).status, 200, "an edit")
    server.end(signal.SIGKILL)
    server.start()
    visitor = server.visitor()
    check.same(visitor.ask("GET", "/api/sites/saltmarsh").json()["name"], "Outlived", "it outlives a kill")
    again = visitor.edit("saltmarsh", "before-death", [{"op": "replace", "path": "/name", "value": "Outlived"}])
    check(again.json()["repeated"], "and the same edit is still the same")
    check.same(server.end()[0], 0, "it ends well")


def main():
    with Server(PROGRAM) as server:
        visitor = server.visitor()
        same_as_command(server, visitor)
        live(server, visitor)
        crossing(server, visitor)
        ending(server, visitor)
        killed(server)
    check.done()


main()
