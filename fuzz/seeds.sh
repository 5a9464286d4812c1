#!/usr/bin/env bash
# Lays what the fuzzer begins with into `seeds/TARGET/`, from the files of the tests and the demo: nothing of it is kept in
# the repository. Given a folder, it lays it there.
set -euo pipefail
cd "$(dirname "$0")/.."
into="${1:-fuzz/seeds}"
rm -rf "$into"

# lay TARGET FILE...: copies, each in the folder that it comes from, which the fuzzer looks through too. The largest files of
# the tests would only slow it down.
lay() {
  local target="$1"
  shift
  mkdir -p "$into/$target"
  find "$@" -maxdepth 0 -size -20k -exec cp --parents -t "$into/$target" {} +
}

# from_commands TARGET TEST...: the same with files of the command tests.
from_commands() {
  local target="$1"
  shift
  mkdir -p "$into/$target"
  find tests/commands -type f -size -20k "$@" -exec cp --parents -t "$into/$target" {} +
}

# parts OUT BETWEEN FILE PART...: some members of an archive behind the byte that says what they are.
parts() {
  local out="$1" kind="$2" archive="$3" part between=""
  shift 3
  { printf '%s' "$kind"
    for part in "$@"; do printf '%b' "$between"; unzip -p "$archive" "$part" 2>/dev/null || true; between='\xff'; done
  } > "$out"
  [[ $(wc -c < "$out") -le 60000 ]] || rm "$out"
}

lay survey tests/hostile/*.csv tests/survey_forms/*.csv demo-data/five-columns.csv
head -12 demo-data/survey.csv > "$into/survey/demo"

lay supplies tests/hostile/supplies/*.csv tests/supplies_forms/*.csv tests/standing_forms/*.csv demo-data/standing.csv
head -20 demo-data/supplies.csv > "$into/supplies/demo"
from_commands supplies -path '*import*' -name 'list*.csv'

mkdir -p "$into/xlsx"
number=0
for book in tests/hostile/*.xlsx tests/hostile/*.ods tests/survey_forms/survey.xlsx tests/survey_forms/survey.ods; do
  number=$((number + 1))
  { printf 0; cat "$book"; } > "$into/xlsx/whole-$number"
  case "$book" in
    *.xlsx) parts "$into/xlsx/parts-$number" 3 "$book" xl/worksheets/sheet1.xml xl/sharedStrings.xml xl/styles.xml xl/workbook.xml ;;
    *.ods) parts "$into/xlsx/parts-$number" 4 "$book" content.xml ;;
  esac
done
printf '1<row r="1"><c r="A1" t="inlineStr"><is><t>enclosure</t></is></c><c r="B1" t="s"><v>0</v></c></row>\xff<si><t>circuit</t></si>' > "$into/xlsx/rows"
printf '2<table:table-row table:number-rows-repeated="2"><table:table-cell office:value-type="string"><text:p>enclosure</text:p></table:table-cell></table:table-row>' > "$into/xlsx/open-rows"

lay job demo-data/job.toml src/cli/starter/job.toml
from_commands job -name job.toml

lay layout label-layouts/*.toml
from_commands layout -name '*.toml' -not -name job.toml

mkdir -p "$into/record"
head -c 12000 demo-data/records.csv > "$into/record/demo"
from_commands record -name records.csv

# The cases of the decisions: a survey, and behind `supplies:` a supplies file.
lay pipeline tests/hostile/*.csv
awk -v into="$into/pipeline/case-" '
  /^=== /  { number++; inside = 1; next }
  /^--->/ || /^standing:/ { inside = 0 }
  inside && !/^#/ && !/^(show|date):/ { print > (into number) }
' tests/decisions/*.txt

mkdir -p "$into/link"
number=0
while IFS= read -r line; do
  number=$((number + 1))
  printf '%b' "$line" > "$into/link/$number"
done <<'LINKS'
https://records.example/n/4711?id=7#top
HTTPS://[fe80::1]:8080/n/%C5%81
javascript:alert(1)
WIFI:S:x;;
2026:17
SCS 0004711 / B
\xc5\x81\xc3\xb3d\xc5\xba 7 \xe2\x80\xae
</title><script>alert(1)</script>&amp;
"' onload=alert(1) x='
../../etc/passwd
CON.pdf
)/Title(x) \\(
=HYPERLINK("x")
LINKS

mkdir -p "$into/site"
printf '\0' > "$into/site/first"
