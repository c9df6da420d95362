"""A slow link on one machine: two network namespaces, joined by this process.

Each namespace gets one end of a TUN device. What one end sends is read here, waits its turn at the link's rate, waits the time
that the way takes, and is written to the other end; or it is lost, by chance drawn from a number given, or because too much
waits already. Needs root, `ip`, and /dev/net/tun.
"""

import collections
import fcntl
import heapq
import os
import random
import select
import struct
import subprocess
import threading
import time

# linux/if_tun.h: the request that sets a device up; a device for IP packets; without four bytes before each.
TUNSETIFF, IFF_TUN, IFF_NO_PI = 0x400454CA, 0x0001, 0x1000

NETWORK = "10.87.12"
HUB, PHONE = 0, 1
LONGEST_PACKET = 1400


class NotHere(Exception):
    """This machine has no such link."""


class Lane:
    """One direction: when each packet gets there, if it does."""

    def __init__(self, rate, delay, loss, queue, chance):
        self.seconds_a_byte = 8 / rate
        self.delay, self.loss, self.queue, self.chance = delay, loss, queue, chance
        self.free_at = 0.0
        self.counts = collections.Counter()

    def arrival(self, length, now):
        """Says when a packet that is sent now gets there; None where it is lost."""
        self.counts["packets"] += 1
        self.counts["bytes"] += length
        waiting = max(0.0, self.free_at - now) / self.seconds_a_byte
        if waiting + length > self.queue:
            self.counts["crowded out"] += 1
            return None
        self.free_at = max(self.free_at, now) + length * self.seconds_a_byte
        # A packet that is lost on the air has taken its time all the same.
        if self.chance.random() < self.loss:
            self.counts["lost"] += 1
            return None
        return self.free_at + self.delay


class Link:
    """The link and its two ends; `with Link(...) as link`."""

    def __init__(self, rate, round_trip, loss=0.0, queue=64_000, seed=1):
        chance = random.Random(seed)
        self.lanes = [Lane(rate, round_trip / 2, loss, queue, chance) for _ in (HUB, PHONE)]
        mark = str(os.getpid())
        self.spaces = [f"hmhub{mark}", f"hmphone{mark}"]
        self.devices, self.stopped = [], threading.Event()

    def __enter__(self):
        try:
            for side in (HUB, PHONE):
                self._end(side)
        except (OSError, subprocess.CalledProcessError) as error:
            self._take_down()
            raise NotHere(str(error)) from error
        self.carrier = threading.Thread(target=self._carry, daemon=True)
        self.carrier.start()
        return self

    def __exit__(self, *_):
        self.stopped.set()
        self.carrier.join()
        self._take_down()

    def inside(self, side, command):
        """A command as it is run at one end."""
        return ["ip", "netns", "exec", self.spaces[side], *command]

    @staticmethod
    def address(side):
        return f"{NETWORK}.{side + 1}"

    def _end(self, side):
        space, name = self.spaces[side], f"hm{'hp'[side]}{os.getpid() % 10_000_000}"
        tun = os.open("/dev/net/tun", os.O_RDWR | os.O_NONBLOCK)
        self.devices.append(tun)
        fcntl.ioctl(tun, TUNSETIFF, struct.pack("16sH22x", name.encode(), IFF_TUN | IFF_NO_PI))
        outside = [["netns", "add", space], ["link", "set", name, "netns", space]]
        within = [
            ["addr", "add", f"{self.address(side)}/24", "dev", name],
            ["link", "set", "dev", name, "mtu", str(LONGEST_PACKET), "up"],
            ["link", "set", "dev", "lo", "up"],
        ]
        for words in outside + [["-n", space, *words] for words in within]:
            subprocess.run(["ip", *words], check=True, capture_output=True)

    def _take_down(self):
        for tun in self.devices:
            os.close(tun)
        for space in self.spaces:
            subprocess.run(["ip", "netns", "delete", space], check=False, capture_output=True)

    def _carry(self):
        under_way, number = [], 0
        while not self.stopped.is_set():
            now = time.monotonic()
            while under_way and under_way[0][0] <= now:
                _, _, to, packet = heapq.heappop(under_way)
                try:
                    os.write(self.devices[to], packet)
                except OSError:
                    pass  # The other end is being taken down; nobody waits for it.
            wait = min(0.05, under_way[0][0] - now) if under_way else 0.05
            for tun in select.select(self.devices, [], [], max(0.0, wait))[0]:
                side = self.devices.index(tun)
                packet = os.read(tun, 2 * LONGEST_PACKET)
                if packet[0] >> 4 != 4:
                    continue  # What version 6 says to its neighbours is not for this link.
                arrives = self.lanes[side].arrival(len(packet), time.monotonic())
                if arrives is not None:
                    number += 1
                    heapq.heappush(under_way, (arrives, number, 1 - side, packet))
