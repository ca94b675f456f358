"""What stands for everything outside this machine, so that no engine ever reaches it."""

import threading
from contextlib import closing
from http.client import HTTPConnection
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from urllib.parse import urlsplit

# A name that no browser trusts as it does 127.0.0.1; names under "test" belong to nobody (RFC 6761).
PLAIN_NAME = "matside.test"
_NOT_PASSED_ON = {"connection", "proxy-connection", "keep-alive", "transfer-encoding", "host"}


class Outside:
    """A proxy for whatever is not 127.0.0.1: `asked` lists the hosts, and none of them is there but one.

    Under `PLAIN_NAME` it gives what this machine serves at the same port: so a page comes over plain HTTP from a
    machine that is not the browser's own, as browsers see it."""

    def __init__(self) -> None:
        self.asked: list[str] = []
        self._server = ThreadingHTTPServer(("127.0.0.1", 0), type("_Asked", (_Handler,), {"outside": self}))
        self._server.daemon_threads = True
        self.port = self._server.server_port
        threading.Thread(target=self._server.serve_forever, kwargs={"poll_interval": 0.05}, daemon=True).start()

    @property
    def address(self) -> str:
        """Host and port of the proxy."""
        return f"127.0.0.1:{self.port}"

    def stop(self) -> None:
        """Takes no connection any more."""
        self._server.shutdown()
        self._server.server_close()


class _Handler(BaseHTTPRequestHandler):
    outside: Outside
    protocol_version = "HTTP/1.1"

    def do_GET(self) -> None:
        url = urlsplit(self.path)
        if url.hostname != PLAIN_NAME:
            return self._refuse(url.netloc)
        try:
            self._pass_on(url.port, self.path.removeprefix(f"{url.scheme}://{url.netloc}"))
        except OSError:
            self.send_error(502)

    do_HEAD = do_POST = do_GET

    def do_CONNECT(self) -> None:
        self._refuse(self.path)

    def _refuse(self, host: str) -> None:
        self.outside.asked.append(host)
        self.send_error(502)

    def _pass_on(self, port: int, path: str) -> None:
        with closing(HTTPConnection("127.0.0.1", port)) as connection:
            headers = {name: value for name, value in self.headers.items() if name.lower() not in _NOT_PASSED_ON}
            connection.request(self.command, path, headers={**headers, "Host": f"127.0.0.1:{port}"})
            answer = connection.getresponse()
            content = answer.read()
        self.send_response(answer.status)
        for name, value in answer.getheaders():
            if name.lower() not in _NOT_PASSED_ON:
                self.send_header(name, value)
        self.end_headers()
        if self.command != "HEAD":
            self.wfile.write(content)

    def log_message(self, *_arguments) -> None:
        """Says nothing."""
