#!/usr/bin/env python3
"""The translations of the message catalogue (data/messages/LANG beside data/messages/en).

  translations.py check ROOT      every sentence against its English one and against the style of the house; what is
                                  not translated is listed; exit 1 on a fault
  translations.py missing ROOT    what is not translated, with its English sentences, ready to be filled in
  translations.py letters ROOT    every letter that a sentence has, each once: what the fonts must have

A message without a translation is said in English, so a new English message breaks nobody's work: it is listed, and
counts. tools/translations_allowed.json says for each language how many may be missing of each catalogue file ("*": any
other file), and which sentences are the same in both languages because they have no words of English in them.
"""
import json
import pathlib
import re
import sys

from messages import placeholders

# Words that no sentence of another language has; those that it has too stand in its list.
ENGLISH = {"the", "of", "is", "are", "and", "with", "which", "from", "not", "this", "that", "your", "its", "has", "be"}
# German shouts, begs or addresses nobody: "Datei prüfen", not "Bitte prüfen Sie die Datei". A capital Sie or Ihr within
# a sentence is an address; at its beginning it may be the pronoun.
TONE = {"de": re.compile(r"!|\b([Bb]itte|[Ll]eider|[Ee]ntschuldig\w+)\b|(?<=[a-zäöüß,] )(Sie|Ihnen|Ihre?[mnrs]?)\b")}
BEGINNING = re.compile(r'["(„]?[^\W\d_a-zäöüß]|["(„]?[0-9{]|"[a-z]|--|\[')
ENDING = re.compile(r"\.$|[.:] \{\w+\}$")


def catalogue(root, language):
    for path in sorted((root / "data" / "messages" / language).glob("*.json")):
        for code, entry in json.loads(path.read_text(encoding="utf-8")).items():
            yield path.name, code, entry


def sentences(entry):
    return {key: entry[key] for key in ("says", "remedy") if entry.get(key)}


def words_of(sentence):
    """What is prose of it: neither quoted, nor an option or a key, nor an argument."""
    return re.findall(r"[^\W\d_]+", re.sub(r'"[^"]*"|\{\w+\}|--[\w-]+|[\w.-]*[_/][\w./-]*', " ", sentence).lower())


def sentence_faults(language, key, own, english, label):
    if placeholders(own) != placeholders(english):
        yield f"placeholders of {key} are {sorted(placeholders(own))}, in English {sorted(placeholders(english))}"
    found = ENGLISH.intersection(words_of(own))
    if found and not own.startswith("zoneproof "):
        yield f"{key} has English words: {', '.join(sorted(found))}"
    if language in TONE and TONE[language].search(own):
        yield f"{key} shouts, begs or addresses: {own}"
    if label:
        return
    first = re.match(r"\w*", own).group()  # a key or command stands as it is typed, in both languages
    if not BEGINNING.match(own) and first not in re.findall(r"\w+", english):
        yield f"{key} does not begin like a sentence: {own}"
    if not ENDING.search(own):
        yield f"{key} does not end with a full stop: {own}"


def faults_of(root, language, allowed):
    english = {code: (name, entry) for name, code, entry in catalogue(root, "en")}
    same = set(allowed.get("same", []))
    for name, code, entry in catalogue(root, language):
        place = f"data/messages/{language}/{name}: {code}"
        if code not in english or english[code][0] != name:
            yield f"{place}: English has no such message in this file"
            continue
        of = english[code][1]
        if entry.get("says") == of["says"] and code not in same:
            yield f"{place}: is the English sentence"
        for key, own in sentences(entry).items():
            for fault in sentence_faults(language, key, own, of.get(key, ""), of["severity"] == "label"):
                yield f"{place}: {fault}"
        if bool(entry.get("remedy")) != bool(of.get("remedy")):
            yield f"{place}: only one of both languages has a remedy"
    for code in sorted(same - {code for _, code, entry in catalogue(root, language) if entry["says"] == english[code][1]["says"]}):
        yield f"tools/translations_allowed.json: {code} is not the same in {language}"


def missing_of(root, language):
    own = {code for _, code, _ in catalogue(root, language)}
    missing = {}
    for name, code, entry in catalogue(root, "en"):
        if code not in own:
            missing.setdefault(name, {})[code] = entry
    return missing


def check(root, language, allowed):
    faults = list(faults_of(root, language, allowed))
    most, missing = allowed.get("missing", {}), missing_of(root, language)
    for name, codes in missing.items():
        print(f"{language}: {len(codes)} of {name} said in English: {', '.join(codes)}")
        limit = most.get(name, most.get("*", 0))
        if len(codes) > limit:
            faults.append(f"data/messages/{language}/{name}: {len(codes)} sentences are missing, {limit} may be")
    told = sum(len(list(codes)) for codes in missing.values())
    print(f"{language}: {len(list(catalogue(root, language)))} sentences, {told} missing")
    for fault in faults:
        print(fault)
    return len(faults)


def main(what, root):
    root = pathlib.Path(root)
    allowed_file = root / "tools" / "translations_allowed.json"
    allowed = json.loads(allowed_file.read_text(encoding="utf-8")) if allowed_file.exists() else {}
    languages = sorted(path.name for path in (root / "data" / "messages").iterdir() if path.is_dir() and path.name != "en")
    if what == "missing":
        for language in languages:
            for name, codes in missing_of(root, language).items():
                print(f"data/messages/{language}/{name}")
                print(json.dumps({code: sentences(entry) for code, entry in codes.items()}, indent=2, ensure_ascii=False))
    elif what == "letters":
        print("".join(sorted({letter for language in languages for _, _, entry in catalogue(root, language)
                              for sentence in sentences(entry).values() for letter in sentence})))
    else:
        sys.exit(1 if sum(check(root, language, allowed.get(language, {})) for language in languages) else 0)


if __name__ == "__main__":
    if len(sys.argv) != 3 or sys.argv[1] not in ("check", "missing", "letters"):
        sys.exit(__doc__)
    main(sys.argv[1], sys.argv[2])
