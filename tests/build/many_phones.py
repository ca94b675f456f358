"""Phones in a hall, as far as a server meets them: each has some connections open at once and asks for every file."""

import asyncio
import hashlib

CONNECTIONS = 6  # of one browser to one host by HTTP/1.1: common practice, no published source


async def visit(port: int, phones: int, expected: dict[str, str], encoding: str = "identity") -> int:
    """Lets so many phones open all their connections, then load every path at once; how many answers were as expected.

    `expected` has the SHA-256 of each path's content as it is sent."""
    opening = [asyncio.open_connection("127.0.0.1", port) for _ in range(phones * CONNECTIONS)]
    connections = await asyncio.gather(*opening)
    paths = list(expected)
    shares = [paths[place % CONNECTIONS :: CONNECTIONS] for place in range(len(connections))]
    loading = [_load(*ends, share, expected, encoding) for ends, share in zip(connections, shares, strict=True)]
    right = sum(await asyncio.gather(*loading))
    for _, writer in connections:
        writer.close()
    await asyncio.gather(*(writer.wait_closed() for _, writer in connections))
    return right


async def _load(reader, writer, paths: list[str], expected: dict[str, str], encoding: str) -> int:
    right = 0
    for path in paths:
        writer.write(f"GET {path} HTTP/1.1\r\nHost: hall\r\nAccept-Encoding: {encoding}\r\n\r\n".encode())
        status, headers, content = await answer(reader)
        assert status == 200, (path, status, headers)
        right += hashlib.sha256(content).hexdigest() == expected[path]
    return right


async def answer(reader) -> tuple[int, dict[str, str], bytes]:
    """The next answer that arrives."""
    lines = (await reader.readuntil(b"\r\n\r\n")).decode().split("\r\n")
    headers = dict(line.lower().split(": ", 1) for line in lines[1:] if line)
    return int(lines[0].split()[1]), headers, await reader.readexactly(int(headers["content-length"]))
