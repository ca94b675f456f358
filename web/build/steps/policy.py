"""What the page may do: the Content-Security-Policy and the other headers that a careful host sends."""

# Pyodide compiles WebAssembly, hence 'wasm-unsafe-eval'; blob: pictures are drawings on their way to being
# shared. "matside" is the one way to a trusted address of a script (web/worker/trusted.js); there is none to
# trusted markup or script text.
_DIRECTIVES = {
    "default-src": "'none'",
    "script-src": "'self' 'wasm-unsafe-eval'",
    "style-src": "'self'",
    "img-src": "'self' blob:",
    "font-src": "'self'",
    "connect-src": "'self'",
    "worker-src": "'self'",
    "manifest-src": "'self'",
    "base-uri": "'none'",
    "form-action": "'none'",
    "require-trusted-types-for": "'script'",
    "trusted-types": "matside",
}

CONTENT_SECURITY_POLICY = "; ".join(f"{name} {value}" for name, value in _DIRECTIVES.items())

# frame-ancestors works in a header only, not in the page's own <meta>.
HEADERS = {
    "Content-Security-Policy": f"{CONTENT_SECURITY_POLICY}; frame-ancestors 'none'",
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(self), screen-wake-lock=(self), geolocation=(), microphone=(), payment=(), usb=()",
}

META = f'<meta http-equiv="Content-Security-Policy" content="{CONTENT_SECURITY_POLICY}">'
