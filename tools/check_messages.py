#!/usr/bin/env python3
"""The message catalogue against the code and against the house's style: check_messages.py ROOT; exit 1 on a fault.

Every code is used by the code (as say::CODE); every sentence is one: it begins with a capital, a number, the name of
the thing or a key of a file and ends with a full stop; errors say what to do; nothing shouts, apologises or begs.
"""
import json
import pathlib
import re
import sys

FORBIDDEN = re.compile(r"!|\b(sorry|please|oops|unfortunately|apolog\w+)\b", re.I)

# Commands and keys of a file stand as they are typed: zoneproof parts lists ..., tolerance_pct is ..., "none" says ...
BEGINNING = re.compile(r'["(]?[A-Z0-9{]|"[a-z]|zoneproof |[a-z_]+ (\{\w+\} )?is ')
# A sentence that is quoted after a colon brings its own full stop.
ENDING = re.compile(r"\.$|: \{\w+\}$")


def used_codes(root):
    codes = set()
    for path in (root / "src").rglob("*.[ch]pp"):
        codes.update(re.findall(r"\bsay::(\w+)", path.read_text(encoding="utf-8")))
    return codes


def sentence_faults(kind, sentence):
    if not re.match(BEGINNING, sentence):
        yield f"{kind} does not begin like a sentence: {sentence}"
    if not re.search(ENDING, sentence):
        yield f"{kind} does not end with a full stop: {sentence}"


def entry_faults(entry):
    says, remedy = entry["says"], entry.get("remedy", "")
    for sentence in (says, remedy):
        if FORBIDDEN.search(sentence):
            yield f"shouts, apologises or begs: {sentence}"
    if entry["severity"] == "label":
        return
    yield from sentence_faults("the sentence", says)
    if remedy:
        yield from sentence_faults("the remedy", remedy)
    if entry["severity"] == "error":
        if not remedy:
            yield "an error without a remedy"
        if entry.get("exit", 0) == 0 or entry.get("http", 200) < 400:
            yield "an error needs an exit status and an HTTP status of its own"


def main(root):
    root = pathlib.Path(root)
    used, faults = used_codes(root), 0
    for path in sorted((root / "data" / "messages" / "en").glob("*.json")):
        for code, entry in json.loads(path.read_text(encoding="utf-8")).items():
            found = list(entry_faults(entry))
            if code not in used:
                found.append("no code says it")
            for fault in found:
                print(f"{path.relative_to(root)}: {code}: {fault}")
            faults += len(found)
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main(sys.argv[1])
