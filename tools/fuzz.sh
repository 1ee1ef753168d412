#!/usr/bin/env bash
# Looks for inputs that break a promise of tests/fuzz, for as long as one likes.
#
#   tools/fuzz.sh [--seconds N] [--keep] [TARGET...]     without targets: all of them, one after the other
#
# --seconds N  for each target; 600 without it
# --keep       inputs that reach code which no kept input reaches become files of tests/fuzz/corpus/TARGET
#
# New inputs are collected in build/fuzz/corpus/TARGET, from which the next run goes on; at the end of a run they are
# reduced to those that are needed. An input that breaks a promise is made as small as it gets and put into
# tests/fuzz/corpus/TARGET as found-...: from then on every ./test tries it. Cure it, and commit the file with the cure.
set -euo pipefail
cd "$(dirname "$0")/.."
. tools/house.sh

seconds=600 keep=no targets=()
while [ $# -gt 0 ]; do
  case "$1" in
    --seconds) seconds=${2:?--seconds needs a number} && shift 2 ;;
    --keep) keep=yes && shift ;;
    -*) sed -n '2,12s/^# \{0,1\}//p' "$0" >&2 && exit 2 ;;
    *) targets+=("$1") && shift ;;
  esac
done
if [ ${#targets[@]} -eq 0 ]; then
  for file in tests/fuzz/*_fuzz.cpp; do targets+=("$(basename "$file" _fuzz.cpp)"); done
fi
for target in "${targets[@]}"; do
  [ -f "tests/fuzz/${target}_fuzz.cpp" ] || { house_say "no fuzz target $target: see tests/fuzz" && exit 2; }
done

house_install test fuzz
house_say "building the fuzz targets into build/fuzz with clang and the sanitizers"
house_build fuzz -DZONEPROOF_TESTS=ON

# The keys of the site file, so that the fuzzer need not guess them letter by letter.
words=build/fuzz/words.dict
python3 - >"$words" <<'PYTHON'
import json
import pathlib
words = {"format", "zoneproof-site", "zoneproof-patch", "op", "path", "from", "value", "add", "remove", "replace", "move", "test", "none"}


def gather(schema):
    if isinstance(schema, dict):
        words.update(schema.get("properties", {}) if isinstance(schema.get("properties"), dict) else ())
        words.update(word for word in schema.get("enum", ()) if isinstance(word, str))
        for inside in schema.values():
            gather(inside)
    elif isinstance(schema, list):
        for inside in schema:
            gather(inside)


gather(json.loads(pathlib.Path("data/schema/site.schema.json").read_text(encoding="utf-8")))
print("\n".join(f'"{word}"' for word in sorted(words)))
PYTHON

# The smallest form of an input that stops a target, into the folder that every ./test tries.
kept_small() {
  local target=$1 input=$2 smallest
  smallest=build/fuzz/found/$target-small
  cp "$input" "$smallest"
  "build/fuzz/tests/${target}_fuzz" -minimize_crash=1 -exact_artifact_path="$smallest" -max_total_time=60 "$input" \
    >"build/fuzz/$target.minimise.log" 2>&1 || true
  mv "$smallest" "tests/fuzz/corpus/$target/found-$(sha256sum "$smallest" | cut -c1-12)"
}

status=0
mkdir -p build/fuzz/found
for target in "${targets[@]}"; do
  program=build/fuzz/tests/${target}_fuzz grown=build/fuzz/corpus/$target kept=tests/fuzz/corpus/$target
  mkdir -p "$grown" "$kept" "$grown.reduced"
  house_say "$target: $seconds seconds, from $(find "$grown" "$kept" -type f | wc -l) inputs"
  if ! "$program" -max_total_time="$seconds" -timeout=25 -rss_limit_mb=3000 -dict="$words" -print_final_stats=1 \
    -artifact_prefix="build/fuzz/found/$target-" "$grown" "$kept" >"build/fuzz/$target.log" 2>&1; then
    status=1
    tail -n 40 "build/fuzz/$target.log" >&2
    for input in "build/fuzz/found/$target"-{crash,leak,timeout,oom}-*; do
      [ -f "$input" ] || continue
      kept_small "$target" "$input"
      mv "$input" "build/fuzz/$(basename "$input")"
    done
    house_say "$target: a promise is broken; the input is in $kept, the report in build/fuzz/$target.log"
    continue
  fi
  grep -E '^stat::(number_of_executed_units|new_units_added|peak_rss_mb)|^Done' "build/fuzz/$target.log" >&2
  "$program" -merge=1 "$grown.reduced" "$grown" >"build/fuzz/$target.merge.log" 2>&1
  rm -r "$grown" && mv "$grown.reduced" "$grown"
  if [ "$keep" = yes ]; then
    "$program" -merge=1 "$kept" "$grown" >>"build/fuzz/$target.merge.log" 2>&1
    house_say "$target: $(find "$kept" -type f | wc -l) inputs are kept in $kept"
  fi
done
exit $status
