"""The server of the hall: for many phones at once, of which some are slow, silent or rude."""

import io
import socket
import ssl
import sys
import time
from functools import partial
from http import HTTPStatus
from http.client import HTTPException
from http.server import ThreadingHTTPServer
from socketserver import TCPServer

from .console import say
from .limits import Doorkeeper, Limits, Place, known_as
from .serving import TYPES, Answering, asked_path
from .shelf import Found, Shelf

PATIENCE = 30.0  # seconds: for a request to arrive whole, and for each piece of an answer to be taken
LONGEST_HEAD = 32 * 1024  # bytes of one request
_PIECE = 64 * 1024  # bytes of an answer that have to be taken in that time
_COME_AGAIN = 5  # seconds, where there are too many connections
_REFUSED = {
    Place.CROWDED: (HTTPStatus.TOO_MANY_REQUESTS, "too many connections from your address"),
    Place.FULL: (HTTPStatus.SERVICE_UNAVAILABLE, "too many connections"),
}


class HallServer(ThreadingHTTPServer):
    """Serves a shelf on all of this machine's addresses; 0 takes any port. With a context it speaks TLS."""

    request_queue_size = 512

    def __init__(
        self,
        port: int,
        shelf: Shelf,
        context: ssl.SSLContext | None = None,
        door: Doorkeeper | None = None,
        patience: float = PATIENCE,
    ) -> None:
        self.door = door or Doorkeeper(Limits(), time.monotonic)
        self._context = context
        self._patience = patience
        self._places: dict[socket.socket, Place] = {}
        everywhere = "0.0.0.0"
        if _speaks_both():
            self.address_family, everywhere = socket.AF_INET6, "::"
        super().__init__((everywhere, port), partial(HallHandler, shelf=shelf, door=self.door, patience=patience))

    def server_bind(self) -> None:
        """Binds, for both kinds of addresses at once where there are both; asks no network for this machine's name."""
        if self.address_family == socket.AF_INET6:
            self.socket.setsockopt(socket.IPPROTO_IPV6, socket.IPV6_V6ONLY, 0)
        TCPServer.server_bind(self)
        self.server_name, self.server_port = "", self.server_address[1]

    def process_request(self, request, client_address) -> None:
        """Gives the connection its place and, unless there is none, a thread."""
        address = known_as(client_address[0])
        place = self.door.enter(address)
        if place is Place.OUTSIDE:
            return self.shutdown_request(request)
        self._places[request] = place
        try:
            super().process_request(request, client_address)
        except RuntimeError:  # there are no more threads to be had
            self._leave(request, client_address)
            self.shutdown_request(request)

    def process_request_thread(self, request, client_address) -> None:
        """Serves one connection until it ends."""
        try:
            super().process_request_thread(request, client_address)
        finally:
            self._leave(request, client_address)

    def _leave(self, request: socket.socket, client_address: tuple) -> None:
        self.door.leave(known_as(client_address[0]), self._places.pop(request))

    def finish_request(self, request, client_address) -> None:
        """Answers what comes by the connection, after the handshake where there is one to make."""
        place = self._places[request]
        if not self._context:
            return self.RequestHandlerClass(request, client_address, self, place=place)
        request.settimeout(self._patience)
        with self._context.wrap_socket(request, server_side=True, do_handshake_on_connect=False) as secured:
            secured.do_handshake()
            self.RequestHandlerClass(secured, client_address, self, place=place)

    def handle_error(self, request, client_address) -> None:
        """Says nothing of a connection that broke, and one line of anything else."""
        error = sys.exception()
        if not isinstance(error, OSError):
            say(f"a request failed: {error!r}")


def _speaks_both() -> bool:
    """Whether one socket can listen to IPv4 and IPv6 here."""
    try:
        with socket.create_server(("::", 0), family=socket.AF_INET6, dualstack_ipv6=True):
            return True
    except (OSError, ValueError):
        return False


class HallHandler(Answering):
    """Answers the requests of one connection out of the shelf, if its address does not ask too much."""

    def __init__(self, *arguments, shelf: Shelf, door: Doorkeeper, patience: float, place: Place) -> None:
        self._shelf = shelf
        self._door = door
        self._patience = patience
        self._place = place
        super().__init__(*arguments)

    def setup(self) -> None:
        """Reads by a deadline, where a time for each read would let a request take for ever."""
        super().setup()
        self.rfile.close()
        self._address = known_as(self.client_address[0])
        self._arriving = _Arriving(self.connection)
        self.rfile = io.BufferedReader(self._arriving)

    def handle_one_request(self) -> None:
        """Waits for a request no longer than it may take, and answers it."""
        self._arriving.begin(time.monotonic() + self._patience)
        try:
            super().handle_one_request()
        except HeadTooLong:
            self.requestline = self.request_version = self.command = ""
            self.send_error(HTTPStatus.REQUEST_URI_TOO_LONG)

    def parse_request(self) -> bool:
        """Reads the head. What follows it is no part of any request that is answered: the connection ends there."""
        if not super().parse_request():
            return False
        if "Content-Length" in self.headers or "Transfer-Encoding" in self.headers:
            self.close_connection = True
        return True

    def handle_expect_100(self) -> bool:
        """Asks for no content."""
        return True

    def do_GET(self) -> None:
        """Sends the file, unless there are too many connections or requests of one address."""
        if self._place is not Place.INSIDE:
            status, why = _REFUSED[self._place]
            return self._refuse(status, why, _COME_AGAIN)
        if seconds := self._door.wait(self._address):
            return self._refuse(HTTPStatus.TOO_MANY_REQUESTS, "too many requests from your address", seconds)
        super().do_GET()

    do_HEAD = do_GET

    def _found(self) -> Found | None:
        path = asked_path(self.path)
        return None if path is None else self._shelf.find(path, self._accepted())

    def _refuse(self, status: HTTPStatus, why: str, seconds: int) -> None:
        headers = {"Content-Type": TYPES[".txt"], "Retry-After": str(seconds), "Connection": "close"}
        self._send(status, headers, f"There are {why}: try again soon.\n".encode())

    def send_error(self, code: int, message: str | None = None, explain: str | None = None) -> None:
        """A request that is not answered: in a line, with the headers of all else, and the connection ends."""
        status = HTTPStatus(code)
        headers = {"Content-Type": TYPES[".txt"], "Connection": "close"}
        self.request_version = self.protocol_version  # it may have named none
        self._send(status, headers, f"{status.phrase}.\n".encode())

    def _send(self, status: HTTPStatus, headers: dict[str, str], content: bytes) -> None:
        self.connection.settimeout(self._patience)
        super()._send(status, headers, content)

    def _write(self, content: bytes) -> None:
        """In pieces, each of which has its time: a slow phone gets all, one that takes nothing is let go."""
        for start in range(0, len(content), _PIECE):
            self.wfile.write(content[start : start + _PIECE])


class HeadTooLong(HTTPException):
    """A request whose head does not end."""


class _Arriving(io.RawIOBase):
    """What arrives on a connection, until a deadline and up to so much."""

    def __init__(self, connection: socket.socket) -> None:
        self._connection = connection
        self.begin(0.0)

    def begin(self, until: float) -> None:
        """Begins to wait for a request, which has to be here by then."""
        self._until = until
        self._taken = 0

    def readable(self) -> bool:
        """It is."""
        return True

    def readinto(self, buffer) -> int:
        """Waits for more. TimeoutError after the deadline, HeadTooLong where there is too much already."""
        left = self._until - time.monotonic()
        if left <= 0:
            raise TimeoutError
        if self._taken >= LONGEST_HEAD:
            raise HeadTooLong
        self._connection.settimeout(left)
        got = self._connection.recv_into(buffer)
        self._taken += got
        return got
