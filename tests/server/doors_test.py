#!/usr/bin/env python3
"""Who gets in, and what for: doors_test.py SOURCE PROGRAM.

Each attack that the server is to withstand is made here, and has to fail; beside it the same request as it should be,
which has to succeed, so that no test passes because nothing works.
"""
import http.client
import json
import os
import socket
import stat
import sys
import urllib.parse

from running import PASSWORD, Checks, Server

SOURCE, PROGRAM = map(os.path.abspath, sys.argv[1:3])
check = Checks()
DOCUMENT = json.load(open(os.path.join(SOURCE, "data/api/openapi.json"), encoding="utf-8"))
RANKS = ["anybody", "this machine", "reader", "technician", "designer"]


def address_of(path):
    return path.replace("{id}", "mill").replace("{name}", "Ada").replace("{number}", "1").replace("{drawing}", "plan") \
        .replace("{sha256}", "0" * 64)


def every_operation():
    for path, methods in DOCUMENT["paths"].items():
        for method, operation in methods.items():
            yield method.upper(), path, operation


def sent_for(operation):
    content = operation.get("requestBody", {}).get("content", {})
    if "application/json" in content:
        return {"json_body": {}}
    return {"body": b"x"} if content else {}


def without_login(server):
    stranger = server.visitor()
    for method, path, operation in every_operation():
        answer = stranger.ask(method, address_of(path), **sent_for(operation))
        if operation["x-access"] in ("anybody", "this machine"):
            check(answer.status != 403 and (answer.status != 401 or path == "/api/visit"), f"{method} {path} is for anybody: {answer.status}")
        else:
            check.same((answer.status, answer.codes()), (401, ["server_login_needed"]), f"{method} {path} without a login")


def roles(server):
    people = {"Rea": "reader", "Tom": "technician", "Ada": "designer"}
    visitors = {}
    for name in people:
        visitors[name] = server.visitor()
        check.same(visitors[name].log_in(name).status, 200, f"{name} logs in")
    for name, role in people.items():
        for method, path, operation in every_operation():
            if path.endswith("/live") or (method, path) in (("DELETE", "/api/visit"), ("DELETE", "/api/people/{name}")):
                continue
            answer = visitors[name].ask(method, address_of(path), **sent_for(operation))
            may = RANKS.index(role) >= RANKS.index(operation["x-access"])
            refused = answer.status == 403 and answer.codes() == ["server_role_needed"]
            if path == "/api/people/{name}" and method == "PATCH":
                continue  # one's own password
            check.same(refused, not may, f"{role}: {method} {path} ({answer.status})")
    technician(visitors["Tom"], visitors["Ada"])
    own_password(visitors["Rea"])


def technician(tom, ada):
    reading = [{"op": "replace", "path": "/cables/c1/length_m", "value": {"value": 20, "origin": "measured"}}]
    wish = [{"op": "replace", "path": "/name", "value": "Another"}]
    ada_made = ada.ask("POST", "/api/sites", json_body={"demo": "kiln-yard", "id": "yard"})
    check.same(ada_made.status, 201, "a designer makes a site")
    cable = next(iter(ada.ask("GET", "/api/sites/yard").json()["cables"]))
    reading[0]["path"] = f"/cables/{cable}/length_m"
    reading[0]["op"] = "add"
    answer = tom.edit("yard", "found", reading)
    check.same(answer.status, 200, f"a technician enters what was measured: {answer.body[:300]}")
    answer = tom.edit("yard", "wished", wish)
    check.same((answer.status, answer.codes()), (403, ["server_only_recorded"]), "a technician edits nothing else")
    check.same(ada.edit("yard", "wished", wish).status, 200, "a designer does")


def own_password(rea):
    change = {"password": "another quiet otter"}
    answer = rea.ask("PATCH", "/api/people/Rea", json_body={**change, "old_password": "wrong"})
    check.same(answer.status, 401, "one's own password needs the old one")
    check.same(rea.ask("PATCH", "/api/people/Ada", json_body=change).status, 403, "nobody else's")
    check.same(rea.ask("PATCH", "/api/people/Rea", json_body={"role": "designer"}).status, 403, "nobody raises themselves")
    check.same(rea.ask("PATCH", "/api/people/Rea", json_body={**change, "old_password": PASSWORD}).status, 200, "with the old one")
    check.same(rea.ask("GET", "/api/sites").status, 401, "logins of the old password have ended")
    check.same(rea.log_in("Rea", "another quiet otter").status, 200, "the new one counts")


def sessions(server):
    victim = server.visitor()
    fixed = victim.cookie
    check.same(victim.log_in("Ada").status, 200, "Ada logs in")
    check(victim.cookie != fixed, "a login has a cookie of its own (session fixation)")
    foisted = server.ask("GET", "/api/sites", headers={"Cookie": fixed})
    check.same(foisted.status, 401, "a cookie that was foisted on her before is worth nothing")
    name, value = victim.cookie.split("=")
    chosen = server.ask("GET", "/api/visit", headers={"Cookie": f"{name}=" + "ab" * 32})
    check.same(chosen.json()["name"], None, "a cookie of an attacker's making is nobody's")
    both = server.ask("GET", "/api/sites", headers={"Cookie": f"{victim.cookie}; {name}=" + "ab" * 32})
    check.same(both.status, 401, "two cookies that differ are none")
    given = victim.log_in("Ada").headers["Set-Cookie"]
    for attribute in ("HttpOnly", "SameSite=Strict", "Path=/"):
        check(attribute in given, f"the cookie has {attribute}: {given}")
    old = victim.cookie
    check.same(victim.ask("DELETE", "/api/visit").status, 204, "Ada logs out")
    check.same(server.ask("GET", "/api/sites", headers={"Cookie": old}).status, 401, "a cookie ends with its login")


def cross_site(server):
    ada = server.visitor()
    ada.log_in("Ada")
    new = {"empty": {"name": "Made elsewhere"}}
    check.same(ada.ask("POST", "/api/sites", json_body=new).status, 201, "Ada's own page makes a site")
    for token in (None, "", "0" * 64, server.visitor().token):
        headers = {} if token is None else {"X-Visit-Token": token}
        answer = ada.ask("POST", "/api/sites", json_body=new, headers=headers, token=False)
        check.same((answer.status, answer.codes()), (403, ["server_token_wrong"]), f"without her token ({token})")
    own = f"http://127.0.0.1:{server.port}"
    check.same(ada.ask("POST", "/api/sites", json_body=new, headers={"Origin": own}).status, 201, "from her own page")
    for origin in ("http://elsewhere.example", "null", f"http://127.0.0.1:{server.port + 1}", f"https://127.0.0.1:{server.port}", ""):
        answer = ada.ask("POST", "/api/sites", json_body=new, headers={"Origin": origin})
        check.same((answer.status, answer.codes()), (403, ["server_foreign_page"]), f"from another origin ({origin})")
    for method, path in (("GET", "/api/sites"), ("POST", "/api/sites")):
        answer = ada.ask(method, path, json_body=new if method == "POST" else None, headers={"Sec-Fetch-Site": "cross-site"})
        check.same((answer.status, answer.codes()), (403, ["server_foreign_page"]), f"{method} that a browser calls cross-site")
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data; boundary=x", ""):
        answer = ada.ask("POST", "/api/sites", body=json.dumps(new).encode(), headers={"Content-Type": kind})
        check.same(answer.status, 415, f"a form of another page ({kind})")


def rebinding(server):
    """A name of somebody else's that leads to this machine: the browser takes it for one site."""
    for host in ("elsewhere.example", f"elsewhere.example:{server.port}", "127.0.0.1.elsewhere.example", "", "localhost@elsewhere.example"):
        for path in ("/", "/api/visit", "/api/health"):
            answer = server.ask("GET", path, headers={"Host": host})
            check.same((answer.status, answer.codes()), (421, ["server_host_unknown"]), f"Host {host!r} {path}")
    for host in (f"127.0.0.1:{server.port}", "localhost", "LOCALHOST.", f"[::1]:{server.port}"):
        check.same(server.ask("GET", "/api/health", headers={"Host": host}).status, 200, f"Host {host!r}")
    said, _ = server.raw(b"GET /api/health HTTP/1.1\r\nHost: localhost\r\nHost: elsewhere.example\r\nConnection: close\r\n\r\n")
    check(b" 421 " in said.split(b"\r\n")[0], "two Hosts are none")
    said, _ = server.raw(b"GET /api/health HTTP/1.1\r\nConnection: close\r\n\r\n")
    check(b" 421 " in said.split(b"\r\n")[0], "no Host is none")


def traversal(server):
    secret = server.book / "visits.key"
    check(secret.exists() and stat.S_IMODE(secret.stat().st_mode) == 0o600, "the key is its owner's")
    page = server.folder / "page"
    (server.folder / "outside.txt").write_text("outside")
    os.symlink(server.folder / "outside.txt", page / "linked.txt")
    for path in ("/../outside.txt", "/%2e%2e/outside.txt", "/..%2foutside.txt", "/a/../../outside.txt", "/.%2e/outside.txt",
                 "/..%5coutside.txt", "/%c0%ae%c0%ae/outside.txt", "//../outside.txt", "/./../outside.txt", "/linked.txt",
                 "/index.html%00.txt", "/" + urllib.parse.quote(str(server.folder / "outside.txt"), safe=""),
                 "/page.txt/../../outside.txt", "http://elsewhere.example/outside.txt", "*"):
        said, _ = server.raw(f"GET {path} HTTP/1.1\r\nHost: localhost\r\nConnection: close\r\n\r\n".encode())
        head, _, body = said.partition(b"\r\n\r\n")
        check(b"outside" not in body or b"problems" in body, f"{path} gives nothing away: {said[:200]}")
        check(head.split(b" ")[1] in (b"400", b"404"), f"{path}: {head[:40]}")
    check.same(server.ask("GET", "/etc/passwd").body, b"<!doctype html>", "a path is never one of the machine's")
    check.same(server.ask("GET", "/page.txt").body, b"inside", "a file of the page")
    check.same(server.ask("GET", "/").body, b"<!doctype html>", "the page")
    check.same(server.ask("GET", "/sites/mill/plan").body, b"<!doctype html>", "a place in the page")
    check.same(server.ask("GET", "/no.such").status, 404, "no file")


def headers(server):
    for path in ("/", "/api/health", "/no.such", "/api/nothing", "/trust"):
        got = server.ask("GET", path).headers
        policy = got["Content-Security-Policy"]
        check("default-src 'none'" in policy and "frame-ancestors 'none'" in policy, f"{path}: {policy}")
        check("'unsafe-inline'" not in policy and "'unsafe-eval'" not in policy.replace("'wasm-unsafe-eval'", ""), f"{path}: strict")
        for name, value in {"X-Content-Type-Options": "nosniff", "Referrer-Policy": "no-referrer", "X-Frame-Options": "DENY",
                            "Cross-Origin-Opener-Policy": "same-origin", "Cross-Origin-Resource-Policy": "same-origin"}.items():
            check.same(got[name], value, f"{path}: {name}")
        check(got["Access-Control-Allow-Origin"] is None, f"{path}: no other origin reads")


def methods(server):
    ada = server.visitor()
    ada.log_in("Ada")
    answer = ada.ask("PUT", "/api/sites")
    check.same((answer.status, sorted(answer.headers["Allow"].split(", "))), (405, ["GET", "POST"]), "a method that is not there")
    check.same(server.ask("POST", "/").status, 405, "the page is only read")
    head = ada.ask("HEAD", "/api/sites")
    check(head.status == 200 and not head.body and int(head.headers["Content-Length"]) > 0, "HEAD tells the length")


def guesses(server):
    thief = server.visitor()
    seen = [thief.ask("POST", "/api/visit", json_body={"name": "Ada", "password": f"guess {i} of many"}) for i in range(8)]
    check.same([one.status for one in seen[:5]], [401] * 5, "some tries are free")
    check(any(one.status == 429 for one in seen), "then one has to wait")
    waits = [int(one.headers["Retry-After"]) for one in seen if one.status == 429]
    check(waits and all(0 < wait <= 900 for wait in waits), f"so long: {waits}")
    right = thief.ask("POST", "/api/visit", json_body={"name": "Ada", "password": PASSWORD})
    check.same(right.status, 429, "the right password has to wait as well")
    nobody = server.visitor().ask("POST", "/api/visit", json_body={"name": "Nobody", "password": PASSWORD})
    check.same(nobody.status, 429, "another name from the same place too")


def languages(server):
    for wanted, words in (("de-AT,de;q=0.9,en;q=0.5", "Niemand ist angemeldet."), ("fr, en;q=0.4", "Nobody is logged in."),
                          ("en;q=0.5, de;q=0.8", "Niemand ist angemeldet."), ("de;q=0", "Nobody is logged in."), (";;q=,", "Nobody is logged in.")):
        answer = server.ask("GET", "/api/sites", headers={"Accept-Language": wanted})
        check.same(answer.json()["problems"][0]["text"], words, f"Accept-Language {wanted}")


def loopback_only(server):
    """Before anybody has a password: everything is open to this machine, and only to it."""
    status = server.visitor().visit()
    check.same((status["login_needed"], status["role"], status["people"]), (False, "designer", False), "no login is needed")
    for address in ("0.0.0.0", "::"):
        other = Server(PROGRAM, "--address", address, folder=server.folder / "other")
        os.makedirs(other.folder, exist_ok=True)
        try:
            other.start()
            check(False, f"{address} without a password")
            other.end()
        except SystemExit as said:
            check("server_needs_people" in str(said) or "Nobody has a password yet" in str(said), f"{address}: {said}")
    bound = socket.socket()
    try:
        bound.connect((socket.gethostbyname(socket.gethostname()), server.port))
        check(socket.gethostbyname(socket.gethostname()).startswith("127."), "it listens on the loopback address only")
    except OSError:
        check(True, "it listens on the loopback address only")
    bound.close()


def main():
    with Server(PROGRAM) as server:
        page = server.folder / "page"
        page.mkdir()
        (page / "index.html").write_text("<!doctype html>")
        (page / "page.txt").write_text("inside")
        server.options = ("--page", str(page))
        server.end()
        server.start()
        loopback_only(server)
        check.same(server.visitor().ask("POST", "/api/sites", json_body={"empty": {"name": "mill"}}).status, 201, "a site")
        for name, role in (("Ada", "designer"), ("Rea", "reader"), ("Tom", "technician")):
            said = server.set_password(name, role=role)
            check.same(said.returncode, 0, f"a password for {name}: {said.stdout}{said.stderr}")
        check.same(server.set_password("Short", "short").returncode, 2, "a short password is refused")
        without_login(server)
        roles(server)
        sessions(server)
        cross_site(server)
        rebinding(server)
        traversal(server)
        headers(server)
        methods(server)
        languages(server)
        guesses(server)
        check.same(server.end()[0], 0, "it ends well")
    check.done()


main()
