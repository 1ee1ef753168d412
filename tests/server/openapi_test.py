#!/usr/bin/env python3
"""data/api/openapi.json against the running server: openapi_test.py SOURCE PROGRAM.

A generic client (python3-jsonschema reads the schemas, draft 2020-12 as OpenAPI 3.1 has them) sends to every path and
method requests that the description allows, and holds every response to it: status, media type, headers, body. What the
description refuses of a request the server refuses as well. Every operation must have been answered well once, and every
answer of the list below must be one that is described.
"""
import json
import pathlib
import sys
import time
import urllib.parse

import jsonschema
from running import PASSWORD, Checks, Server

SOURCE, PROGRAM = pathlib.Path(sys.argv[1]), str(pathlib.Path(sys.argv[2]).resolve())
DOCUMENT = json.loads((SOURCE / "data/api/openapi.json").read_text(encoding="utf-8"))
RESULTS = json.loads((SOURCE / "data/schema/results.schema.json").read_text(encoding="utf-8"))
PNG = bytes.fromhex("89504e470d0a1a0a0000000d49484452000000010000000108060000001f15c4890000000a49444154789c6360000002000154a24f"
                    "5f0000000049454e44ae426082")
check = Checks()


def schema_errors(schema, value):
    whole = {**schema, "components": DOCUMENT["components"]}
    return [error.message[:200] for error in jsonschema.Draft202012Validator(whole).iter_errors(value)]


class Client:
    """Knows nothing but the description."""

    def __init__(self, visitor):
        self.visitor, self.well = visitor, set()

    def call(self, method, path, values=None, query=None, body=None, headers=None, wanted=None):
        operation = DOCUMENT["paths"][path][method]
        name = f"{method.upper()} {path}"
        self.hold_parameters(name, operation, {**(values or {}), **(query or {})})
        address = path
        for key, value in (values or {}).items():
            address = address.replace("{" + key + "}", urllib.parse.quote(str(value), safe=""))
        if query:
            address += "?" + urllib.parse.urlencode(query)
        answer = self.visitor.ask(method.upper(), address, **self.sent(name, operation, body), headers=headers)
        if path.endswith("/live"):
            raise AssertionError("live is followed elsewhere")
        self.hold_response(name, operation, answer)
        check(wanted is None or answer.status == wanted, f"{name}: {answer.status} and not {wanted}: {answer.body[:300]}")
        if answer.status < 400:
            self.well.add((method, path))
        return answer

    @staticmethod
    def hold_parameters(name, operation, given):
        known = {parameter["name"]: parameter for parameter in operation.get("parameters", [])}
        for key, value in given.items():
            check(key in known, f"{name}: parameter {key} is described")
            check(not schema_errors(known[key]["schema"], value), f"{name}: {key}={value} is as described")

    @staticmethod
    def sent(name, operation, body):
        described = operation.get("requestBody")
        if body is None:
            check(described is None, f"{name}: a body is described and none is sent")
            return {}
        content = described["content"]
        if "application/json" in content:
            check.same(schema_errors(content["application/json"]["schema"], body), [], f"{name}: request")
            return {"json_body": body}
        return {"body": body}

    @staticmethod
    def hold_response(name, operation, answer):
        described = operation["responses"].get(str(answer.status))
        check(described is not None, f"{name}: status {answer.status} is described: {answer.body[:300]}")
        if described is None:
            return
        for header, about in described.get("headers", {}).items():
            value = answer.headers.get(header)
            if value is None and not about.get("required"):
                continue
            kind = about["schema"].get("type")
            read = int(value) if kind == "integer" and value and value.isdigit() else value
            check(value is not None and not schema_errors(about["schema"], read), f"{name}: header {header}: {value}")
        content = described.get("content")
        if not content:
            check(not answer.body, f"{name}: no body")
            return
        media = answer.headers["Content-Type"].split(";")[0]
        check(media in content, f"{name}: {media} is described")
        if media == "application/json":
            check.same(schema_errors(content[media]["schema"], answer.json()), [], f"{name} {answer.status}")


def every_request(client):
    c = client.call
    for path in ("/api/health", "/metrics", "/trust", "/api/visit", "/api/people", "/api/schema", "/api/parts", "/api/rules"):
        c("get", path, wanted=200)
    c("get", "/api/authority", wanted=404)
    c("get", "/api/schema", query={"format": "rulebook"}, wanted=200)
    c("get", "/api/schema", query={"format": "site", "field": "/zones/*/loop"}, wanted=200)
    c("get", "/api/parts", query={"kind": "camera"}, wanted=200)
    c("get", "/api/parts", query={"id": "no_such_part"}, wanted=422)
    c("get", "/api/rules", query={"book": "common_practice"}, wanted=200)
    demos = c("get", "/api/sites", wanted=200).json()["demos"]
    check(len(demos) >= 4, "the demos are there")
    site = c("post", "/api/sites", body={"demo": "kiln-yard", "id": "kiln_yard", "edit": "first"}, wanted=201).json()
    again = c("post", "/api/sites", body={"demo": "kiln-yard", "id": "kiln_yard", "edit": "first"}, wanted=201).json()
    check.same(again["id"], site["id"], "the same edit makes the same site")
    c("post", "/api/sites", body={"empty": {"name": "Nothing yet"}}, wanted=201)
    c("post", "/api/sites", body={"text": (SOURCE / "data/demo/tern-hollow.site.json").read_text(encoding="utf-8")}, wanted=201)
    table = "number,name\n1,Front door\n2,Store\n"
    c("post", "/api/sites", body={"table": table, "name": "From a table", "unit": "unit_4_no_papers", "units": 1}, wanted=201)
    c("post", "/api/sites", body={"demo": "no-such"}, wanted=422)
    c("post", "/api/sites", body={"text": "{}"}, wanted=422)
    c("get", "/api/sites", wanted=200)
    one_site(client, {"id": "kiln_yard"})
    long_work(client, {"id": "kiln_yard"})
    kept = c("post", "/api/files", body=PNG, wanted=201).json()
    check.same(c("get", "/api/files/{sha256}", {"sha256": kept["sha256"]}, wanted=200).body, PNG, "a file comes back")
    c("get", "/api/files/{sha256}", {"sha256": kept["sha256"]}, headers={"If-None-Match": f'"{kept["sha256"]}"'}, wanted=304)
    c("get", "/api/files/{sha256}", {"sha256": "0" * 64}, wanted=404)
    c("post", "/api/files", body=b"no picture", wanted=415)


def one_site(client, site):
    c = client.call
    got = c("get", "/api/sites/{id}", site, wanted=200)
    tag = got.headers["ETag"]
    c("get", "/api/sites/{id}", site, headers={"If-None-Match": tag}, wanted=304)
    c("get", "/api/sites/{id}", {"id": "no_such"}, wanted=404)
    base = {"number": got.json()["revision"], "sha256": tag.strip('"')}
    patch = {"format": "zoneproof-patch", "version": 1, "base_revision": base,
             "operations": [{"op": "replace", "path": "/name", "value": "Kiln Yard, renamed"}]}
    kept = c("post", "/api/sites/{id}/edits", site, body={"edit": "e-1", "why": "a new name", "patch": patch}, wanted=200)
    check.same(kept.json()["repeated"], False, "a first edit")
    again = c("post", "/api/sites/{id}/edits", site, body={"edit": "e-1", "why": "a new name", "patch": patch}, wanted=200)
    check.same(again.json()["revision"], kept.json()["revision"], "the same edit once")
    behind = c("post", "/api/sites/{id}/edits", site, body={"edit": "e-2", "patch": patch}, wanted=409).json()
    check.same([one["edit"] for one in behind["since"]], ["e-1"], "the revisions since")
    wrong = {**patch, "base_revision": kept.json()["revision"], "operations": [{"op": "remove", "path": "/no/such"}]}
    c("post", "/api/sites/{id}/edits", site, body={"edit": "e-3", "patch": wrong}, wanted=422)
    undone = c("post", "/api/sites/{id}/edits", site, body={"edit": "e-4", "patch": kept.json()["undo"]}, wanted=200)
    check.same(undone.json()["revision"]["number"], base["number"] + 2, "an undo is an edit")
    check.same(len(c("get", "/api/sites/{id}/revisions", site, wanted=200).json()["revisions"]), 3, "three revisions")
    few = c("get", "/api/sites/{id}/revisions", site, query={"most": 1, "before": 3}, wanted=200).json()
    check.same(([one["number"] for one in few["revisions"]], few["more"]), ([2], True), "a page of the history")
    second = c("get", "/api/sites/{id}/revisions/{number}", {**site, "number": 2}, wanted=200).json()
    check.same(second["site"]["name"], "Kiln Yard, renamed", "the site as it was")
    check("Kiln Yard, renamed" in json.dumps(second["changes"]), f"the difference is readable: {second['changes']}")
    check.same(c("get", "/api/sites/{id}/revisions/{number}", {**site, "number": 1}, wanted=200).json()["changes"], None, "the first")
    c("get", "/api/sites/{id}/revisions/{number}", {**site, "number": 99}, wanted=404)
    answer = c("post", "/api/sites/{id}/ask", site, body={"command": "check"}, wanted=200).json()
    check.same([error.message for error in jsonschema.Draft202012Validator(RESULTS).iter_errors(answer)], [], "results")
    refused = c("post", "/api/sites/{id}/ask", site, body={"command": "levels", "zone": "no such"}, wanted=422).json()
    check(refused["results"]["problems"], "a refused question says why")
    tried = c("post", "/api/sites/{id}/trial", site, body={"operations": [{"op": "replace", "path": "/name", "value": "Tried"}],
                                                           "question": {"command": "check"}}, wanted=200).json()
    check(tried["site_hash"] != answer["site_hash"], "a trial is of another site")
    check.same(c("get", "/api/sites/{id}", site).json()["name"], got.json()["name"], "a trial keeps nothing")
    c("post", "/api/sites/{id}/trial", site, body={"operations": [{"op": "remove", "path": "/no"}], "question": {"command": "check"}}, wanted=422)
    for drawing in ("wiring", "plan", "picture", "discharge"):
        sheet = c("get", "/api/sites/{id}/drawings/{drawing}", {**site, "drawing": drawing}, query={"page": 1, "ink": "dark"}, wanted=200)
        check(sheet.body.startswith(b"<svg"), f"{drawing} is a drawing")
    c("get", "/api/sites/{id}/drawings/{drawing}", {**site, "drawing": "plan"}, query={"page": 99}, wanted=404)
    c("get", "/api/sites/{id}/drawings/{drawing}", {**site, "drawing": "wiring"}, query={"of": "nobody"}, wanted=422)


def long_work(client, site):
    c = client.call
    number = {"number": c("post", "/api/sites/{id}/handover", site, body={"paper": "letter"}, wanted=202).json()["work"]}
    for _ in range(600):
        state = c("get", "/api/work/{number}", number, wanted=200).json()
        if state["state"] not in ("waiting", "running"):
            break
        time.sleep(0.2)
    check.same(state["state"], "done", f"the handover file is made: {state}")
    for file in state["files"]:
        got = c("get", "/api/work/{number}/files/{name}", {**number, "name": file["name"]}, wanted=200)
        check.same(len(got.body), file["bytes"], file["name"])
    c("get", "/api/work/{number}/files/{name}", {**number, "name": "no.such"}, wanted=404)
    c("delete", "/api/work/{number}", number, wanted=204)
    check.same(c("get", "/api/work/{number}", number, wanted=200).json()["files"], [], "its files are forgotten")
    c("delete", "/api/work/{number}", {"number": 999}, wanted=404)
    c("get", "/api/work/{number}", {"number": 999}, wanted=404)


def people(client):
    c = client.call
    designer = {"name": "Ada", "role": "designer", "password": PASSWORD}
    c("post", "/api/people", body={**designer, "role": "reader"}, wanted=422)
    c("post", "/api/people", body=designer, wanted=201)
    c("get", "/api/people", wanted=401)
    client.visitor.visit()
    c("post", "/api/visit", body={"name": "Ada", "password": "not that one"}, wanted=401)
    client.visitor.token = c("post", "/api/visit", body={"name": "Ada", "password": PASSWORD}, wanted=200).json()["token"]
    c("post", "/api/people", body={"name": "Ben", "role": "technician", "password": PASSWORD}, wanted=201)
    c("post", "/api/people", body={"name": "Ben", "role": "reader", "password": PASSWORD}, wanted=409)
    c("patch", "/api/people/{name}", {"name": "Ben"}, body={"role": "reader"}, wanted=200)
    c("patch", "/api/people/{name}", {"name": "Cyd"}, body={"role": "reader"}, wanted=404)
    c("patch", "/api/people/{name}", {"name": "Ada"}, body={"role": "reader"}, wanted=409)
    c("get", "/api/people", wanted=200)
    c("delete", "/api/people/{name}", {"name": "Ben"}, wanted=204)
    c("delete", "/api/people/{name}", {"name": "Ada"}, wanted=409)
    c("delete", "/api/visit", wanted=204)


def what_is_described_wrongly_is_refused(visitor):
    """For every JSON body: without what is needed, with a member that is not known, and with no JSON at all."""
    for path, methods in DOCUMENT["paths"].items():
        for method, operation in methods.items():
            content = operation.get("requestBody", {}).get("content", {})
            if "application/json" not in content:
                continue
            address = path.replace("{id}", "kiln_yard").replace("{name}", "Ada").replace("{number}", "1")
            for body in (b"", b"[]", b"{\"nobody_reads_this\": 1}", b"{\"a\": 1, \"a\": 2}", b"\xff{}", b"{" * 5000):
                answer = visitor.ask(method.upper(), address, body=body, headers={"Content-Type": "application/json"})
                check(400 <= answer.status < 500, f"{method} {path} {body[:30]}: {answer.status} {answer.body[:200]}")
                text = answer.json()
                check(text.get("problems") or text["results"]["problems"], f"{method} {path} says why")


def main():
    with Server(PROGRAM) as server:
        client = Client(server.visitor())
        every_request(client)
        what_is_described_wrongly_is_refused(client.visitor)
        people(client)
        described = {(method, path) for path, methods in DOCUMENT["paths"].items() for method in methods}
        elsewhere = {("get", "/api/authority"), ("get", "/api/sites/{id}/live")}  # tls_test.py, together_test.py
        check.same(described - client.well - elsewhere, set(), "every operation was answered well")
        status, said = server.end()
        check.same(status, 0, "it ends well: " + said)
    check.done()


main()
