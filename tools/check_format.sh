#!/usr/bin/env bash
# Exit 1 where clang-format would change a file of src/, tests/ or benchmarks/; 77 (skipped) where it is not installed.
set -euo pipefail
cd "${1:-.}"
if ! command -v clang-format >/dev/null; then
  echo "clang-format is not installed: the layout of the code is not checked"
  exit 77
fi
find src tests benchmarks -name '*.[ch]pp' -print0 | xargs -0 clang-format --dry-run -Werror
