#!/bin/sh
# Sheets and posters looked at with programs that are not ours.
#
#     check-sheets.sh TAMBOUR PATTERN...
#
# One line for each fault; status 1 when there is one, 77 when a program that is needed is missing.
set -u

if [ $# -lt 2 ]; then
	echo "usage: check-sheets.sh TAMBOUR PATTERN..." >&2
	exit 2
fi
tambour=$1
shift

for program in qpdf pdfinfo pdftotext pdffonts; do
	if ! command -v "$program" >/dev/null 2>&1; then
		echo "skipped: $program is not installed"
		exit 77
	fi
done

work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT HUP INT TERM
failed=0

fault() {
	echo "FAIL $*"
	failed=1
}

# ISO 216 and ANSI/ASME Y14.1, in points of 1/72 inch: 210 mm is 595.276, 8.5 in is 612.
size_of() {
	case $1 in
	a4) echo "595.276 x 841.89" ;;
	a3) echo "841.89 x 1190.55" ;;
	letter) echo "612 x 792" ;;
	tabloid) echo "792 x 1224" ;;
	esac
}

# A text with every run of blanks made one, so that where lines end does not matter. What stands in
# blank letters beneath a chart is left out by nothing here: it is text too.
flat() {
	tr '\n\f' '  ' | tr -s ' '
}

check_sound() { # FILE WHAT
	qpdf --check "$1" >"$work/log" 2>&1 || fault "$2: damaged"
	pdfinfo "$1" >"$work/info" 2>/dev/null
	grep -q '^Tagged: *yes' "$work/info" || fault "$2: not tagged"
	grep -q '^Title: *[^ ]' "$work/info" || fault "$2: no title"
	# Every font is embedded: the column "emb" is the fifth from the end.
	pdffonts "$1" | awk 'NR > 2 && $(NF - 4) != "yes" {bad = 1} END {exit bad}' ||
		fault "$2: a font is not embedded"
	qpdf --qdf --object-streams=disable "$1" "$work/plain.pdf" 2>/dev/null
	grep -aq '/Outlines' "$work/plain.pdf" || fault "$2: no outline"
	grep -aq '/PageLabels' "$work/plain.pdf" || fault "$2: no page labels"
}

check_sheet() { # PATTERN PAPER
	name=$(basename "$1") what="$(basename "$1") sheet on $2" pdf=$work/sheet.pdf
	"$tambour" sheet "$1" --paper "$2" -o "$pdf" 2>"$work/log" || fault "$what: status $?"
	check_sound "$pdf" "$what"
	grep -q "^Page size: *$(size_of "$2") pts" "$work/info" || fault "$what: not the paper's size"
	[ "$(wc -c <"$pdf")" -lt 300000 ] || fault "$what: larger than 300 KB"
	"$tambour" sheet "$1" --paper "$2" -o "$work/again.pdf" 2>"$work/log"
	cmp -s "$pdf" "$work/again.pdf" || fault "$what: two runs differ"
	pdftotext -raw "$pdf" - 2>/dev/null | flat >"$work/text"
	"$tambour" rows "$1" >"$work/rows" 2>/dev/null
	# A heading is not printed in capitals; every other line is a row.
	grep -v '^[[:upper:][:digit:] ]*$' "$work/rows" | while IFS= read -r row; do
		[ -z "$row" ] || grep -qF -- "$row" "$work/text" || echo "$row"
	done >"$work/missing"
	[ ! -s "$work/missing" ] || fault "$what: cannot be read: $(head -n 1 "$work/missing")"
	"$tambour" check --json "$1" 2>/dev/null |
		sed -n 's/.*"sizes":[^[]*\[\([^]]*\)\].*/\1/p' | head -n 1 | tr ',' '\n' | tr -d '" \t' |
		while IFS= read -r size; do
			[ -z "$size" ] || grep -qF -- "$size" "$work/text" || echo "$size"
		done >"$work/missing"
	[ ! -s "$work/missing" ] || fault "$what: a size is missing: $(head -n 1 "$work/missing")"
	for word in Abbreviations Key Gauge Hook; do
		grep -qF "$word" "$work/text" || fault "$what: no $word"
	done
	# Links of the abbreviations lead to the key: each has an annotation.
	grep -aq '/Subtype /Link' "$work/plain.pdf" || fault "$what: no links"
	pages=$(sed -n 's/^Pages: *//p' "$work/info")
	grep -qF "1 / $pages" "$work/text" || fault "$what: the first page does not say 1 / $pages"
}

check_poster() { # PATTERN PAPER OPTIONS...
	pattern=$1 paper=$2
	shift 2
	what="$(basename "$pattern") poster on $paper $*" pdf=$work/poster.pdf
	"$tambour" poster "$pattern" --paper "$paper" "$@" -o "$pdf" 2>"$work/log" ||
		fault "$what: status $?"
	check_sound "$pdf" "$what"
	grep -q "^Page size: *$(size_of "$paper") pts" "$work/info" || fault "$what: not the paper's size"
	pdftotext -f 1 -l 1 "$pdf" - 2>/dev/null | grep -q '100 mm' || fault "$what: no bar of 100 mm"
	pdftotext "$pdf" - 2>/dev/null | grep -q 'A1' || fault "$what: no sheet A1"
}

expect() { # STATUS COMMAND...
	wanted=$1
	shift
	"$tambour" "$@" -o "$work/never.pdf" >/dev/null 2>&1
	got=$?
	[ "$got" -eq "$wanted" ] || fault "$*: status $got, not $wanted"
	[ ! -e "$work/never.pdf" ] || fault "$*: left a file"
}

first=$1
for pattern in "$@"; do
	check_sheet "$pattern" a4
	check_sheet "$pattern" letter
	check_poster "$pattern" a4
	check_poster "$pattern" letter --sheets 3x2
	check_poster "$pattern" tabloid --practice
	check_poster "$pattern" a3 --fit a3 --ink grey --hand left
done

SOURCE_DATE_EPOCH=86400 "$tambour" sheet "$first" -o "$work/dated.pdf" 2>"$work/log"
TZ=UTC pdfinfo "$work/dated.pdf" 2>/dev/null | grep -q '^CreationDate:.*Jan  2 .* 1970' ||
	fault "SOURCE_DATE_EPOCH is not honoured"
"$tambour" sheet "$first" -o - 2>/dev/null | head -c 5 | grep -q '%PDF-' ||
	fault "a sheet on standard output"

expect 2 sheet "$first" --paper a9
expect 2 sheet "$first" --size Q
expect 2 poster "$first" --sheets 3by2
expect 2 poster "$first" --sheets 3x2 --fit a3
expect 2 sheet
expect 3 sheet "$work/missing.json"

exit $failed
