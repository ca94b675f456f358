"""The certificate that the hall is served by: loaded, tried out, and asked for the names that it speaks for."""

import ssl
from pathlib import Path

from .console import Stop

_MEND = "give --certificate a PEM file with the certificate first and those that sign it after it, and --key its key"


def served_by(certificate: Path, key: Path | None = None) -> tuple[ssl.SSLContext, list[str]]:
    """What a server needs to speak TLS by this certificate, and the names and addresses that it is for.

    Stop where it cannot be read, has no key or another's, is locked, or is not valid today."""
    context = ssl.SSLContext(ssl.PROTOCOL_TLS_SERVER)
    context.minimum_version = ssl.TLSVersion.TLSv1_2
    try:
        context.load_cert_chain(certificate, key, password=_locked)
        return context, _names(_tried(context, certificate))
    except ssl.SSLCertVerificationError as error:
        raise Stop(f"the certificate {certificate} is not good: {error.verify_message}: get one that is") from None
    except ssl.SSLError as error:
        raise Stop(f"{certificate} is no certificate with its key ({error.reason or error}): {_MEND}") from None
    except OSError as error:
        raise Stop(f"{error.filename or certificate} cannot be read ({error.strerror}): {_MEND}") from None


def _locked() -> str:
    raise Stop("the key is locked by a password: give --key a copy without one, and keep that to yourself")


def _tried(server: ssl.SSLContext, certificate: Path) -> dict:
    """The certificate as a client reads it that trusts it already; so it is found out here what phones would find."""
    client = ssl.SSLContext(ssl.PROTOCOL_TLS_CLIENT)
    client.check_hostname = False
    client.load_verify_locations(certificate)
    client.verify_flags |= ssl.VERIFY_X509_PARTIAL_CHAIN
    to_server, to_client = ssl.MemoryBIO(), ssl.MemoryBIO()
    near = client.wrap_bio(to_client, to_server)
    far = server.wrap_bio(to_server, to_client, server_side=True)
    while not all([_advance(near), _advance(far)]):
        pass
    return near.getpeercert()


def _advance(side: ssl.SSLObject) -> bool:
    """Goes on with the handshake as far as what has arrived goes; whether it is done."""
    try:
        side.do_handshake()
    except ssl.SSLWantReadError:
        return False
    return True


def _names(told: dict) -> list[str]:
    """The names by which a browser may ask for it: those with a star stand for no one name.

    >>> _names({"subjectAltName": (("DNS", "hall.example.org"), ("DNS", "*.example.org"), ("IP Address", "10.0.0.2"))})
    ['hall.example.org', '10.0.0.2']
    """
    kinds = ("DNS", "IP Address")
    return [name for kind, name in told.get("subjectAltName", ()) if kind in kinds and "*" not in name]
