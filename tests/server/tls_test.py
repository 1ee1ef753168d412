#!/usr/bin/env python3
"""The program's own authority: tls_test.py SOURCE PROGRAM. OpenSSL's command and Python's TLS judge the certificates."""
import json
import os
import re
import socket
import ssl
import stat
import subprocess
import sys
import warnings

from running import Checks, Server

SOURCE, PROGRAM = map(os.path.abspath, sys.argv[1:3])
check = Checks()
warnings.filterwarnings("ignore", category=DeprecationWarning)  # TLS 1.1 is asked for, to be refused


def address_of_machine():
    """One that is not the loopback's; 127.0.0.2 will not do, for the program would take it for this machine."""
    out = subprocess.run(["hostname", "-I"], capture_output=True, text=True).stdout.split()
    private = re.compile(r"^(10\.|192\.168\.|172\.(1[6-9]|2\d|3[01])\.|169\.254\.|100\.(6[4-9]|[7-9]\d|1[01]\d|12[0-7])\.|f[cd][0-9a-f]{2}:)")
    return next((one for one in out if private.match(one)), None)


def in_url(address):
    return f"[{address}]" if ":" in address else address


def authority_as_described(server, form):
    with open(os.path.join(SOURCE, "data/api/openapi.json"), encoding="utf-8") as file:
        described = json.load(file)["paths"]["/api/authority"]["get"]
    check(form in described["parameters"][0]["schema"]["enum"], f"form {form} is described")
    answer = server.ask("GET", f"/api/authority?form={form}")
    check(answer.headers["Content-Type"] in described["responses"][str(answer.status)]["content"], f"{form}: {answer.headers['Content-Type']} is described")
    return answer.body


def trusting(pem):
    context = ssl.create_default_context(cadata=pem)
    return context


def files_of_the_book(book):
    for name in ("authority.key", "authority.pem", "server.key", "server.pem", "visits.key"):
        check.same(stat.S_IMODE((book / name).stat().st_mode), 0o600, f"{name} is its owner's")
    verify = subprocess.run(["openssl", "verify", "-x509_strict", "-CAfile", str(book / "authority.pem"), str(book / "server.pem")],
                            capture_output=True, text=True)
    check.same(verify.returncode, 0, f"openssl verifies the certificate: {verify.stdout}{verify.stderr}")
    words = subprocess.run(["openssl", "x509", "-in", str(book / "authority.pem"), "-noout", "-text"], capture_output=True, text=True).stdout
    for wanted in ("CA:TRUE, pathlen:0", "Certificate Sign", "X509v3 Name Constraints: critical", "IP:192.168.0.0/255.255.0.0", "prime256v1"):
        check(wanted in words, f"the authority's certificate says {wanted}")
    words = subprocess.run(["openssl", "x509", "-in", str(book / "server.pem"), "-noout", "-text"], capture_output=True, text=True).stdout
    for wanted in ("CA:FALSE", "TLS Web Server Authentication", "DNS:localhost", "IP Address:127.0.0.1"):
        check(wanted in words, f"the program's certificate says {wanted}")


def constrained(book):
    """With the stolen key a certificate for a site of the public is made: nobody who trusts the authority takes it."""
    script = f"""
      openssl req -new -newkey ec -pkeyopt ec_paramgen_curve:P-256 -nodes -keyout stolen.key -subj /CN=bank.example -out stolen.csr 2>/dev/null
      printf 'subjectAltName=DNS:bank.example' > ext
      openssl x509 -req -in stolen.csr -CA authority.pem -CAkey authority.key -CAcreateserial -extfile ext -days 30 -out stolen.pem 2>/dev/null
      openssl verify -CAfile authority.pem stolen.pem"""
    said = subprocess.run(["sh", "-c", script], cwd=book, capture_output=True, text=True)
    check(said.returncode != 0 and "permitted subtree violation" in said.stdout + said.stderr, f"names are constrained: {said.stdout}{said.stderr}")
    for name in ("stolen.key", "stolen.csr", "stolen.pem", "ext", "authority.srl"):
        (book / name).unlink(missing_ok=True)


def over_plain(server, address):
    for path in ("/trust", "/api/authority", "/api/health"):
        check.same(server.ask("GET", path, host=address).status, 200, f"{path} is told plainly")
    for path in ("/api/visit", "/api/sites"):
        answer = server.ask("GET", path, host=address)
        check.same((answer.status, answer.codes()), (403, ["server_tls_wanted"]), f"{path} is not")
    page = server.ask("GET", "/sites/mill?x=1", host=address)
    check.same((page.status, page.headers["Location"]), (307, f"https://{in_url(address)}:{server.port}/sites/mill?x=1"), "the page leads to TLS")
    check.same(server.ask("POST", "/api/visit", b"{}", {"Content-Type": "application/json"}, host=address).codes(), ["server_tls_wanted"], "no password is taken")


def over_tls(server, address, context):
    visitor = server.visitor(host=address, tls=context)
    check.same(visitor.visit()["login_needed"], True, "everybody logs in")
    check.same(visitor.log_in("Ada").status, 200, "over TLS one can")
    given = visitor.log_in("Ada").headers["Set-Cookie"]
    check("; Secure" in given and "HttpOnly" in given, f"the cookie stays on TLS: {given}")
    check.same(visitor.ask("GET", "/api/sites").status, 200, "and is let in")
    check.same(visitor.ask("GET", "/metrics").status, 200, "metrics are told to those who are logged in")
    check.same(server.ask("GET", "/metrics", host=address, tls=context).status, 401, "and to nobody else")
    origin = f"http://{in_url(address)}:{server.port}"
    made = visitor.ask("POST", "/api/sites", json_body={"empty": {"name": "x"}}, headers={"Origin": origin})
    check.same(made.codes(), ["server_foreign_page"], "the plain page is another origin")
    with socket.create_connection((address, server.port)) as plain:
        with context.wrap_socket(plain, server_hostname=address) as secure:
            check(secure.version() in ("TLSv1.3", "TLSv1.2"), secure.version())
    old = ssl.create_default_context(cadata=context.pem)
    old.minimum_version = ssl.TLSVersion.TLSv1
    old.maximum_version = ssl.TLSVersion.TLSv1_1
    old.set_ciphers("ALL:@SECLEVEL=0")
    try:
        server.ask("GET", "/api/health", host=address, tls=old)
        check(False, "TLS 1.1 is refused")
    except (ssl.SSLError, OSError):
        check(True, "TLS 1.1 is refused")
    try:
        server.ask("GET", "/api/health", host=address, tls=ssl.create_default_context())
        check(False, "who does not trust the authority does not trust the program")
    except ssl.SSLCertVerificationError:
        check(True, "who does not trust the authority does not trust the program")


def trust_page(server, address, fingerprint):
    for language, words in (("en", "Trusting this zoneproof"), ("de", "Diesem zoneproof")):
        page = server.ask("GET", "/trust", headers={"Accept-Language": language}, host=address)
        text = page.body.decode().replace("<wbr>", "")
        check(words in text and fingerprint in text and f'lang="{language}"' in text, f"the page speaks {language}, with the fingerprint")
        check("<script" not in text and "http-equiv" not in text, "it needs no JavaScript")
    at_home = server.ask("GET", "/trust").body.decode()
    check(f"http://{in_url(address)}:{server.port}/trust" in at_home and "<svg" in at_home, "on the machine itself a code shows the way")


def live_over_tls(server, address, context):
    visitor = server.visitor(host=address, tls=context)
    visitor.log_in("Ada")
    visitor.ask("POST", "/api/sites", json_body={"demo": "kiln-yard", "id": "mill"})
    with context.wrap_socket(socket.create_connection((address, server.port)), server_hostname=address) as stream:
        stream.settimeout(20)
        stream.sendall(f"GET /api/sites/mill/live HTTP/1.1\r\nHost: {in_url(address)}\r\nCookie: {visitor.cookie}\r\n\r\n".encode())
        said = b""
        while b"event: people" not in said:
            said += stream.recv(4096)
        visitor.edit("mill", "over-tls", [{"op": "replace", "path": "/name", "value": "Over TLS"}])
        while b"event: revision" not in said:
            said += stream.recv(4096)
        check(True, "events come over TLS")
        visitor.ask("DELETE", "/api/visit")
        while stream.recv(4096):
            pass
        check(True, "and end with the login")


def main():
    address = address_of_machine()
    if address is None:
        print("this machine has no private address: nothing to try")
        raise SystemExit(77)
    with Server(PROGRAM) as server:
        check.same(server.set_password("Ada").returncode, 0, "a password")
        server.options = ("--address", address, "--name", "workshop.local")
        server.start()
        fingerprint = re.search(r"([0-9A-F]{2}(:[0-9A-F]{2}){31})", server.said).group(1)
        der = authority_as_described(server, "der")
        pem = authority_as_described(server, "pem").decode()
        check.same(server.ask("GET", "/api/authority?form=p12").status, 400, "there is no other form")
        check.same(ssl.DER_cert_to_PEM_cert(der).split(), pem.split(), "DER and PEM are the same certificate")
        said = subprocess.run(["openssl", "x509", "-inform", "DER", "-noout", "-fingerprint", "-sha256"], input=der, capture_output=True).stdout.decode()
        check(fingerprint in said, f"the fingerprint is OpenSSL's: {said}")
        context = trusting(pem)
        context.pem = pem
        files_of_the_book(server.book)
        over_plain(server, address)
        over_tls(server, address, context)
        trust_page(server, address, fingerprint)
        live_over_tls(server, address, context)
        check.same(server.ask("GET", "/api/health", headers={"Host": "workshop.local"}).status, 200, "a name that it was told")
        check.same(server.ask("GET", "/api/health", tls=context).status, 200, "TLS on the loopback address too")
        check.same(server.end()[0], 0, "it ends well")
        before = (server.book / "server.pem").read_bytes()
        server.start()
        check.same((server.book / "server.pem").read_bytes(), before, "the certificate stays")
        server.end()
        os.chmod(server.book / "authority.key", 0o644)
        try:
            server.start()
            check(False, "a key that others may read is refused")
        except SystemExit as said:
            check("others than its owner" in str(said), f"a key that others may read is refused: {said}")
        os.chmod(server.book / "authority.key", 0o600)
        server.options = ("--address", address, "--name", "bank.example")
        try:
            server.start()
            check(False, "a name of the public is refused")
        except SystemExit as said:
            check("was not made for" in str(said), f"a name that the authority may not speak for is refused: {said}")
        constrained(server.book)
    check.done()


main()
