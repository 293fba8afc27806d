#!/bin/sh
# A program whose rows lie (lying_rows.c) must notice, and write nothing.
#
#     sh tests/unit/lying_rows.sh LYING HONEST
set -u
lying=$1 honest=$2
# Fontconfig keeps what it read of the fonts.
ASAN_OPTIONS=detect_leaks=0
export ASAN_OPTIONS
here=$(mktemp -d)
trap 'rm -rf "$here"' EXIT
failed=0 passed=0
expect() {
	if [ "$2" = "$3" ]; then
		passed=$((passed + 1))
	else
		echo "$1: $2, and not $3"
		failed=$((failed + 1))
	fi
}

# The small size has one repeat less than makes a pair of rows: "Rep Rows 3-4 - (3) times".
cat >"$here/graded.txt" <<'PATTERN'
Jetty mat

Sizes: S (L)
Gauge: 12 sts and 9 rows = 10 cm

PANEL
Ch 14 (20)
Row 1 (RS): Sc in 2nd ch from hook and in each ch across, turn.
Row 2: Ch 1, sc in each st across, turn.
Row 3: Ch 3, dc in each st across, turn.
Rep Rows 2-3 1 (4) times.
PATTERN
# And one in which there is nothing to lie about.
sed 's/1 (4) times/3 times/' "$here/graded.txt" >"$here/plain.txt"

for command in rows sheet page; do
	for pattern in graded plain; do
		for program in lying honest; do
			out=$here/$program-$pattern.pdf
			[ $command = page ] && out=$here/$program-$pattern.html
			[ $command = rows ] && out=$here/$program-$pattern.rows
			if [ $program = lying ]; then run=$lying; else run=$honest; fi
			if [ $command = rows ]; then
				"$run" rows "$here/$pattern.txt" >"$out" 2>"$here/told"
			else
				"$run" $command "$here/$pattern.txt" -o "$out" 2>"$here/told"
			fi
			status=$?
			written=no
			[ -s "$out" ] && written=yes
			told=no
			grep -q 'error.*the rows written from this pattern do not come out' "$here/told" && told=yes
			what="$command of $pattern, $program"
			if [ $program$pattern = lyinggraded ]; then
				expect "$what: status" $status 1
				expect "$what: written" $written no
				expect "$what: told" $told yes
			else
				expect "$what: status" $status 0
				expect "$what: written" $written yes
				expect "$what: told" $told no
			fi
			[ $failed -eq 0 ] || cat "$here/told"
		done
	done
done
echo "$passed passed, $failed failed"
[ $failed -eq 0 ]
