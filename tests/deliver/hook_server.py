"""An HTTPS receiver that does as the path says: "/422" answers 422."""

import http.server
import threading


class Handler(http.server.BaseHTTPRequestHandler):
    protocol_version = "HTTP/1.1"

    def do_POST(self):
        body = self.rfile.read(int(self.headers["Content-Length"]))
        self.server.requests.append((self.path, self.headers, body))
        what = self.path.partition("?")[0].strip("/")
        getattr(self, "do_" + what, self._answer)(what)

    # A redirect that is followed comes back as a GET.
    def do_GET(self):
        self.server.requests.append((self.path, self.headers, b""))
        self._answer("200")

    def _answer(self, status, **headers):
        self.send_response(int(status or 200))
        for name, value in headers.items():
            self.send_header(name, value)
        self.send_header("Content-Length", "0")
        self.end_headers()

    def do_redirect(self, _):
        self._answer("302", Location="/elsewhere")

    def do_close(self, _):
        self.close_connection = True

    def do_hang(self, _):
        self.server.released.wait()
        self.close_connection = True

    def do_endless(self, _):
        """200, and then more than anybody wants to read."""
        self.send_response(200)
        self.end_headers()
        self.close_connection = True
        while not self.server.released.is_set():
            self.wfile.write(b"x" * 65536)

    def log_message(self, *_):
        pass


class HookServer:
    """Serves until close(). `requests`: (path, headers, body) of each."""

    def __init__(self, tls):
        self._server = http.server.ThreadingHTTPServer(
            ("127.0.0.1", 0), Handler)
        self._server.requests = self.requests = []
        self._server.released = threading.Event()
        # Failed handshakes and broken pipes are what tests provoke.
        self._server.handle_error = lambda *_: None
        self._server.socket = tls.wrap_socket(
            self._server.socket, server_side=True,
            do_handshake_on_connect=False)
        self.port = self._server.server_address[1]
        self._thread = threading.Thread(target=self._server.serve_forever)
        self._thread.start()

    def close(self):
        self._server.released.set()
        self._server.shutdown()
        self._server.server_close()
        self._thread.join()
