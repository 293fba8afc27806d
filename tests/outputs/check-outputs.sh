#!/bin/sh
# Looks at outputs with programs that are not ours.
#
#     check-outputs.sh TAMBOUR COMPARE_PNG FILE...
#
# A FILE is an .svg, .pdf or .png to look at, or a pattern (.json, .txt), which TAMBOUR charts in all
# three first. Files of one name with other endings are pictures of one drawing and are compared.
# One line a file; status 1 when one fails, 77 when a program that is needed is not installed.
set -u

if [ $# -lt 3 ]; then
	echo "usage: check-outputs.sh TAMBOUR COMPARE_PNG FILE..." >&2
	exit 2
fi
tambour=$1
compare=$2
shift 2

for program in xmllint rsvg-convert qpdf pdfinfo pdftotext pdftoppm; do
	if ! command -v "$program" >/dev/null 2>&1; then
		echo "skipped: $program is not installed"
		exit 77
	fi
done

# Fine enough that the thinnest pen is a dot and a half wide, and coarse enough that the letters of a
# long line, whose widths a PDF rounds to a thousandth, stay within a dot of their places.
DPI=${DPI:-120}

# How alike is alike. Over the examples, edges that two programs soften differently were at most 123
# of 255 apart beyond what lies within one pixel; the palest ink is 137 from white paper, so a line
# that is missing, misplaced by two dots or of another ink lies beyond 130.
TOLERANCE=130
# Ends of dashes and corners of letters may fall beyond it here and there. The bar of one dc, 1.5 mm
# long, is 14 dots at 120 dpi; to lose it must not go unseen.
DOTS=8

work=$(mktemp -d) || exit 2
trap 'rm -rf "$work"' EXIT HUP INT TERM
failed=0

say() { # STATUS FILE TEXT
	printf '%-4s %s: %s\n' "$1" "$2" "$3"
	[ "$1" = ok ] || failed=1
}

picture_of_svg() { # SVG DPI PNG
	rsvg-convert --dpi-x "$2" --dpi-y "$2" "$1" -o "$3" >"$work/log" 2>&1
}

picture_of_pdf() { # PDF DPI PNG
	pdftoppm -r "$2" -png -f 1 -singlefile "$1" "${3%.png}" >"$work/log" 2>&1
}

# Appends to $found what the comparison said; fails when the two are not alike.
compare_pictures() { # NAME FIRST SECOND
	said=$("$compare" "$2" "$3" "$TOLERANCE" "$DOTS" 2>&1)
	status=$?
	found="$found; against $1: $said"
	return $status
}

check_svg() {
	if ! xmllint --noout --nonet "$1" 2>"$work/log"; then
		say FAIL "$1" "not XML: $(head -n 1 "$work/log")"
	elif ! picture_of_svg "$1" "$DPI" "$work/svg.png"; then
		say FAIL "$1" "cannot be drawn: $(head -n 1 "$work/log")"
	else
		say ok "$1" "XML, and can be drawn"
	fi
}

check_pdf() {
	found="sound"
	if ! qpdf --check "$1" >"$work/log" 2>&1; then
		say FAIL "$1" "damaged: $(grep -v '^checking' "$work/log" | head -n 1)"
		return
	fi
	pages=$(pdfinfo "$1" 2>/dev/null | sed -n 's/^Pages: *//p')
	words=$(pdftotext "$1" - 2>/dev/null | wc -w)
	if [ "${pages:-0}" -lt 1 ] || ! pdfinfo "$1" | grep -q '^Title: *[^ ]'; then
		say FAIL "$1" "has no page or no title"
		return
	fi
	found="sound, pages $pages, words $words"
	if [ "$words" -eq 0 ]; then
		say FAIL "$1" "$found: nothing can be read"
		return
	fi
	svg=${1%.pdf}.svg
	if [ -f "$svg" ]; then
		if ! picture_of_svg "$svg" "$DPI" "$work/svg.png" ||
			! picture_of_pdf "$1" "$DPI" "$work/pdf.png"; then
			say FAIL "$1" "cannot be drawn: $(head -n 1 "$work/log")"
			return
		fi
		if ! compare_pictures SVG "$work/svg.png" "$work/pdf.png"; then
			say FAIL "$1" "$found"
			return
		fi
	fi
	say ok "$1" "$found"
}

check_png() {
	if ! dpi=$("$compare" --dpi "$1" 2>"$work/log"); then
		say FAIL "$1" "does not say its dots per inch: $(head -n 1 "$work/log")"
		return
	fi
	found="$dpi dpi"
	svg=${1%.png}.svg
	if [ -f "$svg" ]; then
		# 200 dpi is written as 7874 dots a metre, 199.9996 dpi: to the nearest hundredth is near enough.
		if ! picture_of_svg "$svg" "$dpi" "$work/svg.png"; then
			say FAIL "$1" "its SVG cannot be drawn: $(head -n 1 "$work/log")"
			return
		fi
		if ! compare_pictures SVG "$work/svg.png" "$1"; then
			say FAIL "$1" "$found"
			return
		fi
	fi
	say ok "$1" "$found"
}

check() {
	case $1 in
	*.svg) check_svg "$1" ;;
	*.pdf) check_pdf "$1" ;;
	*.png) check_png "$1" ;;
	esac
}

for file in "$@"; do
	case $file in
	*.svg | *.pdf | *.png)
		check "$file"
		;;
	*)
		stem=$work/$(basename "${file%.*}")
		for ending in svg pdf png; do
			if "$tambour" chart "$file" -o "$stem.$ending" 2>"$work/log"; then
				check "$stem.$ending"
			else
				say FAIL "$file" "no $ending: $(head -n 1 "$work/log")"
			fi
		done
		;;
	esac
done
exit $failed
