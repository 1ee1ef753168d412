#!/usr/bin/env python3
"""What the module ipaddress of Python says of addresses, networks and masks: ip_reference.py QUESTIONS.

QUESTIONS is a JSON file of lists of texts, and of pairs of texts; the answers are written as JSON to the standard output.
Where versions of the module differ, the newer meaning is taken, and "kinds" is null where an older one cannot know it:

- numbers with leading zeros are refused since 3.9.5 (and 3.8.12);
- an address of ::ffff:0:0/96 is written with dots and is of the kind of what it holds since 3.13;
- the tables of what is private were corrected in 3.13 (in some distributions before), 3fff::/20 came later.

Where this project is stricter on purpose, the answer is already the stricter one: zone ids, networks without a prefix, with
a mask in its place or with zeros before it.
"""
import ipaddress
import json
import re
import sys

CORRECTED = ["192.0.0.0/24", "64:ff9b:1::/48", "2001::/23", "2002::/16", "3fff::/20"]
PROBES = ["192.0.0.8", "64:ff9b:1::1", "2001:1::1", "2002::1", "3fff::1"]
GLOBAL_NOW = [False, False, True, False, False]

unknown = [
    ipaddress.ip_network(block)
    for block, probe, now in zip(CORRECTED, PROBES, GLOBAL_NOW)
    if ipaddress.ip_address(probe).is_global != now
]


def held(address):
    """The IPv4 address that an IPv6 address stands for, else itself."""
    return getattr(address, "ipv4_mapped", None) or address


def kinds(address):
    if any(address.version == block.version and address in block for block in unknown):
        return None
    return {
        "private": address.is_private,
        "global": address.is_global,
        "multicast": address.is_multicast,
        "loopback": address.is_loopback,
        "link_local": address.is_link_local,
        "unspecified": address.is_unspecified,
        "reserved": address.version == 4 and address.is_reserved,
    }


def written(address):
    mapped = getattr(address, "ipv4_mapped", None)
    return f"::ffff:{mapped}" if mapped else str(address)


def address(text):
    try:
        found = ipaddress.ip_address(text)
    except ValueError:
        return None
    if "%" in text:
        return None
    return {
        "text": written(found),
        "version": found.version,
        "number": str(int(found)),
        "kinds": kinds(held(found)),
    }


def first_and_last_host(network):
    """As network.hosts() has them, which would count through all."""
    first, last = network[0], network[-1]
    if network.num_addresses <= 2:
        return first, last
    small = network.num_addresses <= 1024
    by_rule = (first + 1, last - 1 if network.version == 4 else last)
    if small:
        listed = list(network.hosts())
        assert (listed[0], listed[-1]) == by_rule
    return by_rule


def network(text):
    if not re.fullmatch(r"[^/%]+/(0|[1-9][0-9]*)", text):
        return None
    try:
        found = ipaddress.ip_network(text)
    except ValueError:
        return None
    first_host, last_host = first_and_last_host(found)
    return {
        "text": f"{written(found.network_address)}/{found.prefixlen}",
        "last": written(found.broadcast_address),
        "netmask": written(found.netmask),
        "size_less_one": str(found.num_addresses - 1),
        "hosts": [written(first_host), written(last_host)],
    }


def mask(text):
    """A mask of IPv4; those of wild cards are taken by the module and not here."""
    try:
        if str(ipaddress.IPv4Address(text)) != text:
            return None
        found = ipaddress.ip_network(f"0.0.0.0/{text}")
    except ValueError:
        return None
    return found.prefixlen if str(found.netmask) == text else None


def pair(texts):
    outer, inner = (ipaddress.ip_network(text) for text in texts)
    return {
        "overlap": outer.version == inner.version and outer.overlaps(inner),
        "contains": outer.version == inner.version and inner.subnet_of(outer),
        "first_inside": inner.network_address in outer,
    }


def main(path):
    with open(path, encoding="utf-8") as file:
        questions = json.load(file)
    answers = {
        "addresses": [address(text) for text in questions["addresses"]],
        "networks": [network(text) for text in questions["networks"]],
        "masks": [mask(text) for text in questions["masks"]],
        "pairs": [pair(texts) for texts in questions["pairs"]],
    }
    json.dump(answers, sys.stdout)


if __name__ == "__main__":
    main(sys.argv[1])
