"""A running server for tests: started on a free port with a book of its own, ended by SIGTERM."""
import http.client
import json
import pathlib
import re
import shutil
import signal
import socket
import ssl
import subprocess
import tempfile
import time

import jsonschema

PASSWORD = "seven quiet otters"


class Answered:
    """A response that has been read."""

    def __init__(self, response, body):
        self.status, self.body = response.status, body
        self.headers = response.headers

    def json(self):
        return json.loads(self.body)

    def codes(self):
        return [problem["code"] for problem in self.json()["problems"]]


class Visitor:
    """What a browser keeps: a cookie, and the token of the page."""

    def __init__(self, server, **more):
        self.server, self.cookie, self.token, self.more = server, None, None, more

    def ask(self, method, path, body=None, headers=None, json_body=None, token=True):
        sent = dict(headers or {})
        if json_body is not None:
            body = json.dumps(json_body).encode()
            sent.setdefault("Content-Type", "application/json")
        if self.cookie and "Cookie" not in sent:
            sent["Cookie"] = self.cookie
        if token and self.token and method not in ("GET", "HEAD"):
            sent.setdefault("X-Visit-Token", self.token)
        answer = self.server.ask(method, path, body, sent, **self.more)
        given = answer.headers.get("Set-Cookie")
        if given:
            self.cookie = given.split(";")[0]
        return answer

    def visit(self):
        answer = self.ask("GET", "/api/visit")
        self.token = answer.json()["token"]
        return answer.json()

    def log_in(self, name, password=PASSWORD):
        self.visit()
        answer = self.ask("POST", "/api/visit", json_body={"name": name, "password": password})
        if answer.status == 200:
            self.token = answer.json()["token"]
        return answer

    def edit(self, site, edit, operations, base=None, why="a test"):
        if base is None:
            answer = self.ask("GET", f"/api/sites/{site}")
            base = {"number": answer.json()["revision"], "sha256": answer.headers["ETag"].strip('"')}
        patch = {"format": "zoneproof-patch", "version": 1, "base_revision": base, "operations": operations}
        return self.ask("POST", f"/api/sites/{site}/edits", json_body={"edit": edit, "why": why, "patch": patch})


class Server:
    def __init__(self, program, *options, folder=None):
        self.program = str(program)
        self.folder = pathlib.Path(folder or tempfile.mkdtemp(prefix="zoneproof-server-"))
        self.book = self.folder / "book"
        self.options = options
        self.process = None

    def __enter__(self):
        self.start()
        return self

    def __exit__(self, *_):
        if self.process and self.process.poll() is None:
            self.process.kill()
            self.process.wait()
        shutil.rmtree(self.folder, ignore_errors=True)

    def start(self, port=0):
        command = [self.program, "serve", "--book", str(self.book), "--port", str(port), *self.options]
        self.process = subprocess.Popen(command, stdout=subprocess.PIPE, stderr=subprocess.STDOUT, text=True)
        self.said = ""
        for line in self.process.stdout:
            self.said += line
            found = re.search(r"http://127\.0\.0\.1:(\d+)/$", line.strip())
            if found:
                self.port = int(found.group(1))
            if "Ctrl+C" in line:
                return
        raise SystemExit("the server did not begin: " + self.said)

    def end(self, how=signal.SIGTERM):
        self.process.send_signal(how)
        rest = self.process.stdout.read()
        return self.process.wait(timeout=30), rest

    def set_password(self, name, password=PASSWORD, role=None):
        command = [self.program, "serve", "--book", str(self.book), "--set-password", name]
        return subprocess.run(command + (["--role", role] if role else []), input=password + "\n", text=True,
                              capture_output=True)

    def ask(self, method, path, body=None, headers=None, host="127.0.0.1", tls=None, timeout=60):
        if tls:
            connection = http.client.HTTPSConnection(host, self.port, timeout=timeout, context=tls)
        else:
            connection = http.client.HTTPConnection(host, self.port, timeout=timeout)
        try:
            connection.request(method, path, body=body, headers=headers or {})
            response = connection.getresponse()
            return Answered(response, response.read())
        finally:
            connection.close()

    def raw(self, data, wait=60.0, host="127.0.0.1"):
        """Sends bytes as they are and reads until the server closes: what it said, and how long it took."""
        begun = time.monotonic()
        with socket.create_connection((host, self.port), timeout=wait) as connection:
            connection.sendall(data)
            said = b""
            try:
                while True:
                    piece = connection.recv(65536)
                    if not piece:
                        break
                    said += piece
            except (ConnectionResetError, socket.timeout):
                pass
        return said, time.monotonic() - begun

    def visitor(self, **more):
        visitor = Visitor(self, **more)
        visitor.visit()
        return visitor


class Events:
    """The live events of a site, one after another. Each is held against what the description says of its name."""

    DESCRIPTION = pathlib.Path(__file__).resolve().parents[2] / "data/api/openapi.json"

    def __init__(self, visitor, site, timeout=20):
        server = visitor.server
        self.connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=timeout)
        self.connection.request("GET", f"/api/sites/{site}/live", headers={"Cookie": visitor.cookie})
        self.response = self.connection.getresponse()
        described = json.loads(self.DESCRIPTION.read_text(encoding="utf-8"))
        stream = described["paths"]["/api/sites/{id}/live"]["get"]["responses"]["200"]["content"]["text/event-stream"]
        resolver = jsonschema.RefResolver("", described)
        self.events = {name: jsonschema.Draft202012Validator(schema, resolver=resolver)
                       for name, schema in stream["x-events"].items()}

    def next(self):
        """(event, data); (None, None) at the end."""
        event = data = None
        while True:
            line = self.response.readline().decode()
            if not line:
                return None, None
            line = line.rstrip("\n")
            if line.startswith("event: "):
                event = line[7:]
            elif line.startswith("data: "):
                data = json.loads(line[6:])
            elif not line and event:
                self.events[event].validate(data)
                return event, data

    def until(self, wanted, fits=lambda data: True):
        while True:
            event, data = self.next()
            if event is None or (event == wanted and fits(data)):
                return data

    def close(self):
        self.connection.sock.close() if self.connection.sock else None
        self.response.close()
        self.connection.close()


class Checks:
    """Counts what was held to; prints what was not."""

    def __init__(self):
        self.held = self.broken = 0

    def __call__(self, promise, what):
        if promise:
            self.held += 1
        else:
            self.broken += 1
            print("broken promise:", what, flush=True)

    def same(self, found, wanted, what):
        self(found == wanted, f"{what}: {found!r} is not {wanted!r}")

    def done(self):
        print(f"{self.held} passed, {self.broken} failed")
        raise SystemExit(1 if self.broken or not self.held else 0)
