#!/usr/bin/env bash
# Exit 1 where shellcheck has something to say about a script; 77 (skipped) where it is not installed.
set -euo pipefail
cd "${1:-.}"
if ! command -v shellcheck >/dev/null; then
  echo "shellcheck is not installed: the scripts are not checked"
  exit 77
fi
shellcheck -x run test bench .ci/run tools/*.sh
