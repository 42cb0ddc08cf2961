#!/usr/bin/env bash
# From start to the end of the first output, as a person waits for it: the middle of 51 runs.
# Usage: bash crates/recipe/benches/start-up.sh target/release/unwheat
set -euo pipefail
unwheat=${1:-target/release/unwheat}
cd "$(dirname "$0")/../../.."
for command in "weigh --lines" "rework"; do
    input=examples/apricot-almond-buns.txt
    for _ in $(seq 51); do
        start=$(date +%s%N)
        # shellcheck disable=SC2086
        "$unwheat" $command "$input" >/dev/null
        echo $((($(date +%s%N) - start) / 1000))
    done | sort -n | awk -v what="$command" '
        { took[NR] = $1 }
        END { printf "%-14s middle %.1f ms, worst %.1f ms\n", what, took[26] / 1000, took[NR] / 1000 }'
done
