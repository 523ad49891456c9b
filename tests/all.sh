#!/usr/bin/env bash
# The one command that passes every test. CI runs it as it is.
set -euo pipefail
cd "$(dirname "$0")/.."

# The browser tests need a real browser, and a reader for the pages that it prints.
missing=()
command -v chromium >/dev/null || missing+=(chromium)
command -v chromedriver >/dev/null || missing+=(chromium-driver)
command -v pdftotext >/dev/null || missing+=(poppler-utils)
if [ "${#missing[@]}" -gt 0 ]; then
  if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null; then
    echo "Missing: ${missing[*]}. Install them (Debian: sudo apt-get install ${missing[*]}), then run this again." >&2
    exit 1
  fi
  apt-get update -q
  DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
fi

# A clean machine builds everything once: bookkeeping for the next build costs more than it gives.
if [ -n "${CI:-}" ]; then
  export CARGO_INCREMENTAL=0
fi

cargo fmt --all --check
cargo clippy --workspace --all-targets -- -D warnings
cargo test --workspace
RUSTDOCFLAGS="-D warnings" cargo doc --workspace --no-deps
