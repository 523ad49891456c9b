#!/usr/bin/env bash
# The one command that passes every test. CI runs it as it is.
set -euo pipefail
cd "$(dirname "$0")/.."

# The browser tests need a real browser, and a reader for the pages that it prints.
missing=()
command -v chromium >/dev/null || missing+=(chromium)
command -v chromedriver >/dev/null || missing+=(chromium-driver)
command -v pdftotext >/dev/null || missing+=(poppler-utils)
command -v npm >/dev/null || missing+=(npm)
command -v java >/dev/null || missing+=(default-jre-headless)
if [ "${#missing[@]}" -gt 0 ]; then
  if [ "$(id -u)" -ne 0 ] || ! command -v apt-get >/dev/null; then
    echo "Missing: ${missing[*]}. Install them (Debian: sudo apt-get install ${missing[*]}), then run this again." >&2
    exit 1
  fi
  apt-get update -q
  DEBIAN_FRONTEND=noninteractive apt-get install -q -y --no-install-recommends "${missing[@]}"
fi

# Two checkers of pages from the npm registry, beside what is built.
tools="${CARGO_TARGET_DIR:-target}/npm"
if [ ! -f "$tools/node_modules/vnu-jar/build/dist/vnu.jar" ] || [ ! -f "$tools/node_modules/axe-core/axe.min.js" ]; then
  mkdir -p "$tools"
  npm install --prefix "$tools" --no-save --no-audit --no-fund --ignore-scripts axe-core@4.14.1 vnu-jar@26.9.27
fi

# A clean machine builds everything once: bookkeeping for the next build costs more than it gives.
if [ -n "${CI:-}" ]; then
  export CARGO_INCREMENTAL=0
fi

cargo fmt --all --check
cargo clippy --workspace --all-targets -- -D warnings
cargo test --workspace
RUSTDOCFLAGS="-D warnings" cargo doc --workspace --no-deps
