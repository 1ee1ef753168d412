#!/usr/bin/env python3
"""Storms against a general simulator of queues (python3-simpy3): queues_in_simpy_test.py STORM_SPECIMEN

The specimen writes random storms and the time of every frame at every hop. Here each piece is a process of its own that
waits for one resource after the other, in exact fractions of a nanosecond; all times, deliveries and backlogs must be the
same. A storm in which something comes to a queue at the same moment from two sides is left out: then the order is a choice.
"""
import collections
import fractions
import math
import subprocess
import sys

try:
    import simpy
except ImportError:
    sys.exit(77)

STORMS = 400
Hop = collections.namedtuple("Hop", "rate latency pictures_first")
Flow = collections.namedtuple("Flow", "release first_picture path frames")


class Storm:
    def __init__(self, seed, piece_bits):
        self.seed, self.piece_bits = seed, piece_bits
        self.hops, self.flows, self.delivered, self.backlogs = [], [], [], []
        self.times = {}  # (queued or sent, flow, frame, hop) -> nanoseconds

    def pieces(self, bits):
        while self.piece_bits and bits > self.piece_bits:
            yield self.piece_bits
            bits -= self.piece_bits
        yield bits


def read_flow(words):
    path, frames = [], []
    rest = iter(words[3:])
    for word in rest:
        if word == "through":
            path.append(int(next(rest)))
        else:
            frames.append((int(next(rest)), int(next(rest))))
    return Flow(int(words[1]), int(words[2]), path, frames)


def read(text):
    storms = []
    for line in text.splitlines():
        words = line.split()
        if words[0] == "storm":
            storms.append(Storm(int(words[1]), int(words[3])))
        elif words[0] == "hop":
            storms[-1].hops.append(Hop(int(words[1]), int(words[2]), words[3] == "1"))
        elif words[0] == "flow":
            storms[-1].flows.append(read_flow(words))
        elif words[0] == "delivered":
            storms[-1].delivered.append((int(words[1]), int(words[2])))
        elif words[0] == "backlog":
            storms[-1].backlogs.append(int(words[1]))
        else:
            storms[-1].times[words[0], int(words[2]), int(words[3]), int(words[4])] = int(words[1])
    return storms


class Simulation:
    """The same storm, piece by piece."""

    def __init__(self, storm):
        self.storm = storm
        self.world = simpy.Environment(initial_time=fractions.Fraction(0))
        self.queues = [simpy.PriorityResource(self.world) for _ in storm.hops]
        self.times = {}
        self.delivered = [[0, 0] for _ in storm.flows]
        self.changes = [[] for _ in storm.hops]  # of the backlog
        self.comers = [collections.defaultdict(set) for _ in storm.hops]
        for number, flow in enumerate(storm.flows):
            for frame, (at, bits) in enumerate(flow.frames):
                for piece in storm.pieces(bits):
                    self.world.process(self.journey(number, frame, flow.release + at, piece))
        self.world.run()

    def journey(self, number, frame, at, bits):
        flow = self.storm.flows[number]
        picture = frame == flow.first_picture
        yield self.world.timeout(at)
        for place in flow.path:
            hop = self.storm.hops[place]
            self.comers[place][self.world.now].add(number)
            self.changes[place].append((self.world.now, 1, bits))
            self.times["queued", number, frame, place] = self.world.now
            with self.queues[place].request(priority=0 if picture or not hop.pictures_first else 1) as turn:
                yield turn
                yield self.world.timeout(fractions.Fraction(bits * 10**9, hop.rate))
                done = math.ceil(self.world.now)
            self.changes[place].append((done, 0, -bits))
            self.times["sent", number, frame, place] = done
            yield self.world.timeout(done - self.world.now + hop.latency)
        self.delivered[number][1] = max(self.delivered[number][1], self.world.now)
        if picture:
            self.delivered[number][0] = max(self.delivered[number][0], self.world.now)

    def tied(self):
        return any(len(flows) > 1 for hop in self.comers for flows in hop.values())

    def backlogs(self):
        largest = []
        for changes in self.changes:
            waiting = most = 0
            for _, _, bits in sorted(changes):
                waiting += bits
                most = max(most, waiting)
            largest.append(most)
        return largest


def main(specimen):
    text = subprocess.run([specimen, str(STORMS)], stdout=subprocess.PIPE, check=True, timeout=600).stdout.decode()
    storms = read(text)
    compared = faults = 0
    for storm in storms:
        found = Simulation(storm)
        if found.tied():
            continue
        compared += 1
        same = (found.times == storm.times and [tuple(times) for times in found.delivered] == storm.delivered
                and found.backlogs() == storm.backlogs)
        if not same:
            faults += 1
            differing = [key for key in storm.times if found.times.get(key) != storm.times[key]]
            print(f"storm {storm.seed} differs: {differing[:5]}")
    if len(storms) != STORMS or compared < 0.9 * STORMS:
        sys.exit(f"{len(storms)} storms, {compared} of them compared: too few")
    print(f"{compared} storms compared, {faults} differ")
    sys.exit(1 if faults else 0)


if __name__ == "__main__":
    main(sys.argv[1])
