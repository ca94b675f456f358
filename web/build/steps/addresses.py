"""By which addresses others nearby reach this machine, found without a word to any network."""

import os
import socket
import struct
import sys
from contextlib import suppress
from ipaddress import ip_address

# An address of documentation (RFC 5737): nothing is sent to it, only the way there is looked up.
_SOMEWHERE = ("198.51.100.1", 9)
# Ask the system for an interface's address: SIOCGIFADDR of Linux, and of macOS and the BSDs. Both put it at one place.
_ASK = 0x8915 if sys.platform == "linux" else 0xC0206921
_REQUEST, _AT = struct.Struct("16s24x"), slice(20, 24)
# Interfaces that programs make for themselves; no phone is behind them.
_MADE = ("docker", "br-", "veth", "virbr", "vmnet", "vbox", "tun", "tap", "utun", "wg")


def addresses() -> list[str]:
    """The IPv4 addresses of this machine that are not its own alone, the likeliest first."""
    found = dict.fromkeys([*_routed(), *_of_interfaces(), *_of_this_name()])
    return sorted(filter(_is_reached, found), key=lambda address: ip_address(address).is_link_local)


def _is_reached(address: str) -> bool:
    told = ip_address(address)
    return not (told.is_loopback or told.is_unspecified)


def _routed() -> list[str]:
    """The address by which this machine goes to the rest of the world, where it has a way there."""
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as way, suppress(OSError):
        way.connect(_SOMEWHERE)
        return [way.getsockname()[0]]
    return []


def _of_interfaces() -> list[str]:
    """The address of each interface, those that programs made last; none where the system cannot be asked so."""
    try:
        from fcntl import ioctl
    except ImportError:
        return []
    found = []
    with socket.socket(socket.AF_INET, socket.SOCK_DGRAM) as any_socket:
        for name in _interfaces():
            with suppress(OSError):  # it has none
                told = ioctl(any_socket.fileno(), _ASK, _REQUEST.pack(name.encode()[:15]))
                found.append(socket.inet_ntoa(told[_AT]))
    return found


def _interfaces() -> list[str]:
    with suppress(OSError):
        return sorted((name for _, name in socket.if_nameindex()), key=lambda name: name.startswith(_MADE))
    return []


def _of_this_name() -> list[str]:
    """The addresses of this machine's name: on Windows all that it has; elsewhere a network might be asked."""
    if os.name == "nt":
        with suppress(OSError):
            return socket.gethostbyname_ex(socket.gethostname())[2]
    return []
