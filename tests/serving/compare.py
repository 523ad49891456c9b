#!/usr/bin/env python3
"""The phone page beside nginx serving the same bytes as a file, in turns, in one run.

    cargo build --release
    python3 tests/serving/compare.py

Needs Debian's nginx and wrk. Starts the demo and nginx on ports of 127.0.0.1, measures each in
turns with 32 connections, for each coding of the page (phones take brotli), then lets 1 000 phones
load page, stylesheet and script at once, from a server that has not rendered the page yet. A server
has one core and the load another, so that it is not chance who waits for whom. Prints medians and
their ratios. Ends with 1 when an answer was not what was asked for, 1 000 phones took longer than
10 s, or the server was slower than it may be: 0.9 of nginx's requests, 1.5 of its 99th percentile.
"""

import asyncio
import os
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
LEAST_RATE, MOST_WAIT = 0.9, 1.5
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
    seconds = time.monotonic() - start
    # Whoever came last found the page in memory: it is the measure for all.
    whole = await phone(paths)
    return seconds, [answer for answer in done if answer != whole]


def main():
    for tool in ("nginx", "wrk"):
        if not shutil.which(tool):
            sys.exit(f"{tool} is missing (Debian: apt-get install nginx wrk)")
    with tempfile.TemporaryDirectory() as folder:
        # Started by root, nginx reads files as another user.
        pathlib.Path(folder).chmod(0o755)
        slow = compare_codings(folder)
        load_a_hall()
        if slow:
            sys.exit(f"slower than it may be: {', '.join(slow)}")


def served():
    """The demo on a core of its own, and the address of its step cards."""
    serve = [*ON_ONE_CORE, SERVER, "serve", "--demo", "--listen", f"127.0.0.1:{OURS}"]
    ours = subprocess.Popen(serve, stdout=subprocess.PIPE, stderr=subprocess.DEVNULL, text=True)
    return ours, next(line for line in ours.stdout if "/a/" in line).split()[-1]


def compare_codings(folder):
    """Compares each coding; names those that are too slow."""
    ours, url = served()
    try:
        for coding in CODINGS:
            pathlib.Path(folder, f"page{coding}.html").write_bytes(wait_for(url, coding))
        pathlib.Path(folder, "nginx.conf").write_text(NGINX.format(folder=folder, port=THEIRS))
        theirs = subprocess.Popen([*ON_ONE_CORE, "nginx", "-c", f"{folder}/nginx.conf", "-p", folder],
                                  stderr=subprocess.DEVNULL)
        try:
            return [coding or "plain" for coding in CODINGS if not compare(url, coding)]
        finally:
            theirs.terminate()
            theirs.wait()
    finally:
        ours.terminate()
        ours.wait()


def load_a_hall():
    ours, url = served()
    os.sched_setaffinity(0, {1})
    try:
        # Names of stylesheet and script, from a page of another look: this one is not rendered yet.
        page = wait_for(f"{url}?print=large")
        asked = re.findall(r'(?:href|src)="(/static/[^"]+)"', page.decode())
        seconds, wrong = asyncio.run(hall([url[url.index("/a/"):], *asked]))
    finally:
        ours.terminate()
        ours.wait()
    print(f"{PHONES} phones, {1 + len(asked)} files each: {seconds:.2f} s, {len(wrong)} errors")
    if wrong:
        sys.exit(f"such as: {wrong[0]}")
    if seconds > PATIENCE:
        sys.exit(f"longer than {PATIENCE} s")


def compare(url, coding):
    """Whether the server is as fast as it should be."""
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
    rate, p99 = rate / file_rate, p99 / file_p99
    print(f"  ratio      {rate:9.2f}              {p99:9.2f}")
    return rate >= LEAST_RATE and p99 <= MOST_WAIT


main()
