"""How much one address may ask of the hall, and all of them together. Pure: the clock is given."""

import math
import threading
from collections.abc import Callable
from dataclasses import dataclass
from enum import Enum
from ipaddress import IPv6Address, ip_address

_MANY = 1000  # addresses that are remembered before those are forgotten of whom there is nothing to know


class Place(Enum):
    """Where a new connection gets to: it is served, it is told why not, or it is closed at once."""

    INSIDE = "inside"
    CROWDED = "crowded"  # too many of its own address
    FULL = "full"  # too many altogether
    OUTSIDE = "outside"


@dataclass(frozen=True)
class Limits:
    """What forty phones behind one address do not reach: each opens up to six connections, and asks for every file of
    the page twice, once for the page and once for the service worker.
    """

    everyone: int = 512  # connections at once
    each: int = 400  # of them by one address
    told: int = 32  # connections beyond, which are told so
    burst: int = 24_000  # requests of one address
    per_second: float = 500  # by which that fills again


@dataclass
class _Known:
    """What there is to know of one address."""

    left: float  # requests, at that time
    at: float
    inside: int = 0


class Doorkeeper:
    """Counts connections and requests by address. Any thread may ask it.

    >>> door = Doorkeeper(Limits(each=1, burst=2, per_second=0.5), clock=lambda: 0.0)
    >>> door.enter("a"), door.enter("a"), door.enter("b")
    (<Place.INSIDE: 'inside'>, <Place.CROWDED: 'crowded'>, <Place.INSIDE: 'inside'>)
    >>> door.wait("a"), door.wait("a"), door.wait("a"), door.wait("b")
    (0, 0, 2, 0)
    """

    def __init__(self, limits: Limits, clock: Callable[[], float]) -> None:
        self.limits = limits
        self._clock = clock
        self._lock = threading.Lock()
        self._known: dict[str, _Known] = {}
        self._inside = self._told = 0

    def enter(self, address: str) -> Place:
        """A new connection of this address; whatever the place, it is to `leave` it."""
        with self._lock:
            known = self._of(address)
            place = self._place(known)
            self._count(place, known, 1)
            return place

    def leave(self, address: str, place: Place) -> None:
        """A connection that got this place is over."""
        with self._lock:
            self._count(place, self._of(address), -1)

    def wait(self, address: str) -> int:
        """Takes note of one request: 0 where it may be answered, else the whole seconds until one may."""
        with self._lock:
            known = self._of(address)
            if known.left < 1:
                return math.ceil((1 - known.left) / self.limits.per_second)
            known.left -= 1
            return 0

    @property
    def inside(self) -> int:
        """How many connections are served."""
        return self._inside

    def _place(self, known: _Known) -> Place:
        crowded, full = known.inside >= self.limits.each, self._inside >= self.limits.everyone
        if not (crowded or full):
            return Place.INSIDE
        if self._told >= self.limits.told:
            return Place.OUTSIDE
        return Place.CROWDED if crowded else Place.FULL

    def _count(self, place: Place, known: _Known, by: int) -> None:
        if place is Place.INSIDE:
            known.inside += by
            self._inside += by
        elif place is not Place.OUTSIDE:
            self._told += by

    def _of(self, address: str) -> _Known:
        now = self._clock()
        if address not in self._known:
            if len(self._known) >= _MANY:
                self._forget(now)
            self._known[address] = _Known(self.limits.burst, now)
        known = self._known[address]
        known.left, known.at = self._left(known, now), now
        return known

    def _left(self, known: _Known, now: float) -> float:
        return min(self.limits.burst, known.left + (now - known.at) * self.limits.per_second)

    def _forget(self, now: float) -> None:
        """Drops the addresses that are as if they had never been here."""
        self._known = {
            address: known
            for address, known in self._known.items()
            if known.inside or self._left(known, now) < self.limits.burst
        }


def known_as(address: str) -> str:
    """The address that one machine goes by: of IPv6 the network, in which it takes as many addresses as it likes.

    >>> known_as("192.168.4.7"), known_as("::ffff:192.168.4.7"), known_as("fe80::1%wlan0")
    ('192.168.4.7', '192.168.4.7', 'fe80::/64')
    """
    found = ip_address(address.split("%")[0])
    if not isinstance(found, IPv6Address):
        return str(found)
    if found.ipv4_mapped:
        return str(found.ipv4_mapped)
    network = int(found) >> 64 << 64
    return f"{IPv6Address(network)}/64"
