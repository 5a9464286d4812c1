#!/usr/bin/env bash
# Builds every target without a fuzzer's instruments, and runs each seed through it once: stable Rust and a compiler for C++
# are all that it needs.
set -euo pipefail
cd "$(dirname "$0")/.."
fuzz/seeds.sh
cargo build --locked --bins --manifest-path fuzz/Cargo.toml --target-dir target
for seeds in fuzz/seeds/*/; do
  target="$(basename "$seeds")"
  find "$seeds" -type f -exec "target/debug/$target" -timeout=20 {} + > "target/$target.log" 2>&1 ||
    { tail -40 "target/$target.log"; exit 1; }
  echo "$target: $(find "$seeds" -type f | wc -l) seeds"
done
