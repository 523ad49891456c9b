#!/usr/bin/env python3
"""The phone page beside nginx serving the same bytes as a file, in turns, in one run.

    cargo build --release
    python3 tests/serving/compare.py

Needs Debian's nginx and wrk. Starts the demo and nginx on ports of 127.0.0.1, measures each in
turns with 32 connections, for each coding of the page (phones take brotli), then lets 1 000 phones
load page, stylesheet and script at once. A server has one core and the load another, so that it is
not chance who waits for whom. Prints medians and their ratios. Ends with 1 when an answer was no
page, or 1 000 phones took longer than 10 s.
"""

import asyncio
import pathlib
import re
import shutil
import statistics
import subprocess
import sys
import tempfile
import time
import urllib.request

ROOT = pathlib.Path(__file__).resolve().parents[2]
SERVER = ROOT / "target" / "release" / "tablefold"
ROUNDS, SECONDS, CONNECTIONS, PHONES, PATIENCE = 5, 4, 32, 1000, 10
ON_ONE_CORE, ON_ANOTHER = ["taskset", "-c", "0"], ["taskset", "-c", "1"]
OURS, THEIRS = 8471, 8472
CODINGS = ("br", "gzip", "")

NGINX = """
worker_processes 1;
daemon off;
pid {folder}/nginx.pid;
error_log {folder}/error.log;
events {{ worker_connections 4096; }}
http {{
  types {{ text/html html; }}
  access_log off;
  sendfile on;
  tcp_nopush on;
  keepalive_requests 1000000;
  open_file_cache max=10 inactive=60s;
  client_body_temp_path {folder}/b; proxy_temp_path {folder}/p; fastcgi_temp_path {folder}/f;
  uwsgi_temp_path {folder}/u; scgi_temp_path {folder}/s;
  server {{ listen 127.0.0.1:{port} backlog=4096; root {folder}; etag on; }}
}}
"""


def wait_for(url, coding=""):
    asked = urllib.request.Request(url, headers={"Accept-Encoding": coding or "identity"})
    for _ in range(600):
        try:
            return urllib.request.urlopen(asked, timeout=5).read()
        except OSError:
            time.sleep(0.1)
    sys.exit(f"{url} does not answer")


def load(url, coding):
    """Requests a second and the 99th percentile in ms."""
    accept = f"Accept-Encoding: {coding or 'identity'}"
    command = [*ON_ANOTHER, "wrk", "-t1", f"-c{CONNECTIONS}", f"-d{SECONDS}s", "--latency",
               "-H", accept, url]
    text = subprocess.run(command, capture_output=True, text=True, check=True).stdout
    if "Non-2xx" in text or "Socket errors" in text:
        sys.exit(text)
    number, unit = re.search(r"99%\s+([\d.]+)(us|ms|s)", text).groups()
    p99 = float(number) * {"us": 0.001, "ms": 1, "s": 1000}[unit]
    return float(re.search(r"Requests/sec:\s+([\d.]+)", text).group(1)), p99


async def phone(paths):
    """One phone: a connection, the page and what it asks for; bytes in all."""
    reader, writer = await asyncio.open_connection("127.0.0.1", OURS)
    total = 0
    for path in paths:
        writer.write(f"GET {path} HTTP/1.1\r\nHost: 127.0.0.1:{OURS}\r\n"
                     "Accept-Encoding: gzip, br\r\n\r\n".encode())
        head = (await reader.readuntil(b"\r\n\r\n")).decode().lower()
        if not head.startswith("http/1.1 200"):
            raise RuntimeError(head)
        length = re.search(r"content-length: (\d+)", head)
        if length:
            total += len(await reader.readexactly(int(length.group(1))))
            continue
        while (size := int((await reader.readuntil(b"\r\n")).strip(), 16)) or True:
            total += len(await reader.readexactly(size + 2))
            if size == 0:
                break
    writer.close()
    return total


async def hall(paths):
    start = time.monotonic()
    done = await asyncio.gather(*(phone(paths) for _ in range(PHONES)), return_exceptions=True)
    errors = [answer for answer in done if isinstance(answer, Exception)]
    return time.monotonic() - start, errors


def main():
    for tool in ("nginx", "wrk"):
        if not shutil.which(tool):
            sys.exit(f"{tool} is missing (Debian: apt-get install nginx wrk)")
    with tempfile.TemporaryDirectory() as folder:
        # Started by root, nginx reads files as another user.
        pathlib.Path(folder).chmod(0o755)
        serve = [*ON_ONE_CORE, SERVER, "serve", "--demo", "--listen", f"127.0.0.1:{OURS}"]
        ours = subprocess.Popen(serve, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
        try:
            url = next(line for line in ours.stdout if "/a/" in line).split()[-1]
            page = wait_for(url)
            for coding in CODINGS:
                bytes_sent = wait_for(url, coding)
                pathlib.Path(folder, f"page{coding}.html").write_bytes(bytes_sent)
            pathlib.Path(folder, "nginx.conf").write_text(NGINX.format(folder=folder, port=THEIRS))
            theirs = subprocess.Popen([*ON_ONE_CORE, "nginx", "-c", f"{folder}/nginx.conf", "-p", folder],
                                      stderr=subprocess.DEVNULL)
            try:
                for coding in CODINGS:
                    compare(url, coding)
            finally:
                theirs.terminate()
                theirs.wait()
            asked = re.findall(r'(?:href|src)="(/static/[^"]+)"', page.decode())
            seconds, errors = asyncio.run(hall([url[url.index("/a/"):], *asked]))
            print(f"{PHONES} phones, {1 + len(asked)} files each: {seconds:.2f} s, {len(errors)} errors")
            if errors:
                sys.exit(f"such as: {errors[0]}")
            if seconds > PATIENCE:
                sys.exit(f"longer than {PATIENCE} s")
        finally:
            ours.terminate()
            ours.wait()


def compare(url, coding):
    file = f"http://127.0.0.1:{THEIRS}/page{coding}.html"
    page = wait_for(url, coding)
    if wait_for(file) != page:
        sys.exit("nginx serves other bytes")
    rows = {"tablefold": [], "nginx": []}
    for _ in range(ROUNDS):
        rows["tablefold"].append(load(url, coding))
        rows["nginx"].append(load(file, coding))
    medians = {name: [statistics.median(column) for column in zip(*row)]
               for name, row in rows.items()}
    print(f"{coding or 'plain'}: {len(page)} bytes, {CONNECTIONS} connections, "
          f"median of {ROUNDS} rounds of {SECONDS} s")
    for name, (rate, p99) in medians.items():
        print(f"  {name:10} {rate:9.0f} requests/s   p99 {p99:7.2f} ms")
    (rate, p99), (file_rate, file_p99) = medians["tablefold"], medians["nginx"]
    print(f"  ratio      {rate / file_rate:9.2f}              {p99 / file_p99:9.2f}")


main()
