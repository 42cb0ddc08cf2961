#!/usr/bin/env bash
# Fills fuzz/corpus/{text,page} from cases/ and examples/: each file behind a byte that picks the
# locale (0 us, 1 metric, 2 uk, 3 au).
set -euo pipefail
cd "$(dirname "$0")/.."
mkdir -p fuzz/corpus/text fuzz/corpus/page
seed() { # target, file, text of the file on standard input
    for locale in 0 2; do
        { printf "\\x0$locale"; cat "$2"; } >"fuzz/corpus/$1/seed-$locale-$(basename "$2")"
    done
}
for file in examples/*.txt cases/good/*.txt cases/bad/*.*; do seed text "$file"; done
for file in cases/good/web/*.html cases/bad/*.html; do
    seed page "$file"
    seed text "$file"
    # The data block alone, for the second way through the page target.
    python3 - "$file" <<'PY' || true
import pathlib, re, sys
path = pathlib.Path(sys.argv[1])
text = path.read_text(encoding="utf-8", errors="ignore")
for i, block in enumerate(re.findall(r"<script[^>]*ld\+json[^>]*>(.*?)</script>", text, re.S)):
    pathlib.Path(f"fuzz/corpus/page/seed-block-{i}-{path.name}").write_text("\0" + block, encoding="utf-8")
PY
done
# Ingredient lines, twenty a seed.
for table in known unseen; do
    tail -n +2 "cases/lines/$table.tsv" | cut -f1 | split -l 20 - "/tmp/unwheat-seed-$table-"
    for part in /tmp/unwheat-seed-"$table"-*; do
        { printf '\x00'; cat "$part"; } >"fuzz/corpus/text/$(basename "$part")"
        rm "$part"
    done
done
ls fuzz/corpus/text | wc -l
ls fuzz/corpus/page | wc -l
