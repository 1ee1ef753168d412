#!/usr/bin/env python3
"""What the module ipaddress of Python says of the addresses of sites: address_reference.py SITES.

SITES is a JSON file, a list of {"networks": {id: {"range", "pool_first", "pool_last"}}, "addresses": {id: {"network",
"address", "router"}}}; one device has one address. For each site the answers as {"CHECK ID": broken or not}, written as JSON to the
standard output. Written from the meaning of each check, not from its code.
"""
import ipaddress
import json
import sys

THIS_NETWORK = ipaddress.ip_network("0.0.0.0/8")


def for_no_device(address):
    return (
        address.is_multicast
        or address.is_loopback
        or address.is_unspecified
        or (address.version == 4 and (address.is_reserved or address in THIS_NETWORK))
    )


def may_have(network, address, is_router=False):
    """Whether a device may have the address: hosts() of the module, which cannot be gone through in a network of IPv6."""
    if address not in network:
        return False
    if network.num_addresses <= 2:
        return True
    if address == network.network_address:
        return address.version == 6 and is_router
    return address.version == 6 or address != network.broadcast_address


def pool_of(network):
    if network.get("pool_first") is None:
        return None
    return ipaddress.ip_address(network["pool_first"]), ipaddress.ip_address(network["pool_last"])


def in_pool(pool, address):
    first, last = pool
    return first.version == address.version and first <= address <= last


def answers(site):
    found = {}
    ranges = {id: ipaddress.ip_network(network["range"]) for id, network in site["networks"].items()}
    values = {id: ipaddress.ip_address(one["address"]) for id, one in site["addresses"].items()}
    for id, one in site["addresses"].items():
        network, value = ranges[one["network"]], values[id]
        found[f"address_in_network {id}"] = not may_have(network, value, one["router"]) or for_no_device(value)
        found[f"address_clash {id}"] = list(values.values()).count(value) > 1
        pool = pool_of(site["networks"][one["network"]])
        if pool is None or (pool[0].version == pool[1].version and pool[0] <= pool[1]):  # else nobody can tell
            found[f"address_in_pool {id}"] = pool is not None and in_pool(pool, value)
    for id, network in site["networks"].items():
        found[f"networks_overlap {id}"] = any(
            ranges[id].version == other.version and ranges[id].overlaps(other)
            for key, other in ranges.items()
            if key != id
        )
        pool = pool_of(network)
        if pool is not None:
            found[f"pool_in_network {id}"] = (
                pool[0].version != pool[1].version
                or pool[0] > pool[1]
                or not all(may_have(ranges[id], end) for end in pool)
            )
    return found


def main(path):
    with open(path, encoding="utf-8") as file:
        json.dump([answers(site) for site in json.load(file)], sys.stdout)


if __name__ == "__main__":
    main(sys.argv[1])
