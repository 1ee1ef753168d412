#!/usr/bin/env python3
"""Requests that are too large, too slow, too many or no requests at all: limits_test.py SOURCE PROGRAM."""
import json
import os
import socket
import sys
import time

from running import Checks, Server

SOURCE, PROGRAM = map(os.path.abspath, sys.argv[1:3])
check = Checks()
HEAD = b"Host: localhost\r\n"


def status(said):
    return int(said.split(b" ", 2)[1]) if said.startswith(b"HTTP/1.1 ") else None


def too_large(server, visitor):
    token = f"Cookie: {visitor.cookie}\r\nX-Visit-Token: {visitor.token}\r\nContent-Type: application/json\r\n".encode()
    for path, length in (("/api/visit", 20_000), ("/api/sites", 100_000_000), ("/api/health", 2000), ("/no/such", 10**18),
                         ("/api/files", 2**63)):
        said, took = server.raw(f"POST {path} HTTP/1.1\r\nContent-Length: {length}\r\n".encode() + HEAD + token + b"\r\n")
        check.same(status(said), 413, f"{length} bytes announced for {path}")
        check(b"Connection: close" in said and took < 20, "and nothing more is read")
    chunk = b"4000\r\n" + b"x" * 0x4000 + b"\r\n"
    said, _ = server.raw(b"POST /api/visit HTTP/1.1\r\nTransfer-Encoding: chunked\r\n" + HEAD + token + b"\r\n" + 4 * chunk)
    check.same(status(said), 413, "chunks beyond the limit")
    said, _ = server.raw(b"GET /api/health HTTP/1.1\r\n" + HEAD + b"X-Long: " + b"y" * 20_000 + b"\r\n\r\n")
    check.same(status(said), 431, "a long header")
    said, _ = server.raw(b"GET /" + b"z" * 20_000 + b" HTTP/1.1\r\n" + HEAD + b"\r\n")
    check.same(status(said), 431, "a long target")
    said, _ = server.raw(b"POST /api/visit HTTP/1.1\r\nExpect: 100-continue\r\nContent-Length: 30000\r\n" + HEAD + token + b"\r\n")
    check.same(status(said), 413, "what is asked for first is refused before it is sent")
    said, _ = server.raw(b"POST /api/visit HTTP/1.1\r\nExpect: 100-continue\r\nConnection: close\r\nContent-Length: 2\r\n" + HEAD + token + b"\r\n{}")
    check(said.startswith(b"HTTP/1.1 100 Continue\r\n\r\nHTTP/1.1 400 "), f"and what is small is asked for: {said[:80]}")


def no_requests(server):
    for bytes_sent in (b"\r\n\r\n\r\n", b"GARBAGE\r\n\r\n", b"GET / HTTP/9.9\r\n\r\n", b"\x16\x03\x01\x02\x00\x01\x00\x01\xfc\x03\x03" + b"\0" * 300,
                       b"GET /api/health HTTP/1.1\r\nContent-Length: -1\r\n\r\n", b"GET /api/health HTTP/1.1\r\nContent-Length: 1\r\nContent-Length: 2\r\n\r\n",
                       b"GET /api/health HTTP/1.1\r\nTransfer-Encoding: chunked\r\nContent-Length: 5\r\n\r\n0\r\n\r\n",
                       b"GET /api/health HTTP/1.1\r\nHost : localhost\r\n\r\n", b"GET /api/health HTTP/1.1\r\n folded: x\r\n\r\n",
                       b"POST /api/visit HTTP/1.1\r\nHost: localhost\r\nTransfer-Encoding: chunked\r\n\r\nzz\r\n", b"GET /\0 HTTP/1.1\r\nHost: localhost\r\n\r\n"):
        said, took = server.raw(bytes_sent, wait=20)
        check(status(said) == 400 and took < 15, f"{bytes_sent[:60]!r}: {said[:60]!r} after {took:.1f} s")
    check.same(server.ask("GET", "/api/health").status, 200, "it answers on")


def smuggling(server, visitor):
    """Two requests in one, for a proxy that reads the length and a server that reads the chunks."""
    inner = b"GET /metrics HTTP/1.1\r\nHost: localhost\r\n\r\n"
    said, _ = server.raw(b"POST /api/visit HTTP/1.1\r\nContent-Length: 4\r\nTransfer-Encoding: chunked\r\n" + HEAD + b"\r\n0\r\n\r\n" + inner)
    check(said.count(b"\r\nDate: ") == 1 and status(said) == 400, f"length and chunks: {said[:200]}")


def slow(server):
    """A request that trickles, and a reader that does not take its answer."""
    begun = time.monotonic()
    with socket.create_connection(("127.0.0.1", server.port)) as connection:
        connection.settimeout(30)
        ended = None
        try:
            for byte in b"GET /api/health HTTP/1.1\r\nX-Slow: " + b"a" * 100:
                connection.sendall(bytes([byte]))
                time.sleep(0.5)
        except OSError:
            ended = time.monotonic() - begun
        check(ended is not None and 8 < ended < 14, f"a head that trickles ends after ten seconds: {ended}")
    with socket.create_connection(("127.0.0.1", server.port)) as connection:
        connection.settimeout(30)
        begun = time.monotonic()
        check.same(connection.recv(1), b"", "a connection that says nothing is closed")
        check(8 < time.monotonic() - begun < 14, "after ten seconds")
    check.same(server.ask("GET", "/api/health").status, 200, "it answers others meanwhile")


def many(server):
    held = []
    asked = b"GET /api/health HTTP/1.1\r\nHost: localhost\r\n\r\n"
    for number in range(130):
        held.append(socket.create_connection(("127.0.0.1", server.port)))
        if number >= 120:  # whoever asks at once is told as well, and not cut off over what was not read (RFC 9112, 9.6)
            held[-1].sendall(asked)
    time.sleep(0.3)
    turned, reset, words = 0, 0, {}
    for connection in held:
        connection.settimeout(0.05)
        try:
            told = connection.recv(4096)
        except ConnectionResetError:
            reset += 1
            continue
        except OSError:
            continue
        if b" 503 " in told:
            turned += 1
            words = json.loads(told.partition(b"\r\n\r\n")[2])
    check.same(words.get("problems", [{}])[0].get("code"), "server_full", "whoever is turned away is told why")
    check.same(reset, 0, "nobody is cut off before the words are read")
    check(turned >= 130 - 96 - 1, f"beyond the limit of one address connections are turned away: {turned}")
    for connection in held:
        connection.close()
    time.sleep(0.3)
    check.same(server.ask("GET", "/api/health").status, 200, "and let in again afterwards")


def hung_up(server, visitor):
    """Questions that nobody waits for any more do not keep others waiting."""
    visitor.ask("POST", "/api/sites", json_body={"demo": "saltmarsh", "id": "big"})
    head = (f"POST /api/sites/big/ask HTTP/1.1\r\nHost: localhost\r\nCookie: {visitor.cookie}\r\nX-Visit-Token: {visitor.token}\r\n"
            "Content-Type: application/json\r\nContent-Length: 21\r\n\r\n{\"command\": \"faults\"}").encode()
    for _ in range(20):
        with socket.create_connection(("127.0.0.1", server.port)) as connection:
            connection.sendall(head)
            time.sleep(0.02)
    begun = time.monotonic()
    check.same(visitor.edit("big", "quick", [{"op": "replace", "path": "/name", "value": "Quick"}]).status, 200, "an edit")
    took = time.monotonic() - begun
    check(took < 2, f"an edit does not wait for questions: {took:.2f} s")
    check.same(visitor.ask("POST", "/api/sites/big/ask", json_body={"command": "netlist"}).status, 200, "a question is answered")


def main():
    with Server(PROGRAM) as server:
        visitor = server.visitor()
        too_large(server, visitor)
        no_requests(server)
        smuggling(server, visitor)
        many(server)
        slow(server)
        hung_up(server, visitor)
        counts = server.ask("GET", "/metrics").body.decode()
        for name in ("turned_away_total", "timed_out_total", "malformed_total"):
            value = [line for line in counts.splitlines() if line.startswith("zoneproof_") and name in line][0].split()[1]
            check(float(value) > 0, f"metrics count {name}: {value}")
        check.same(server.end()[0], 0, "it ends well")
    check.done()


main()
