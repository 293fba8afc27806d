# Patterns made to cost as much as they can. Each is a plain error at its place, or taken, with little
# memory and time: measured with a build without sanitizers, which take several times as much, and
# run with the sanitizers too. Sourced by run.

folder=$work/bounds
mkdir -p "$folder"
sh .ci/packages build
[ -f "$plain/build.ninja" ] || meson setup "$plain" --buildtype=release >/dev/null
ninja -C "$plain" -j "$(nproc)" src/cli/tambour >"$work/log" 2>&1
say $? "no build without sanitizers in $plain"

# STATUS PLACE KIB SECONDS NAME: PLACE is "line:column: error: words", or empty. Memory in KiB.
bound() {
	status=$1
	place=$2
	most=$3
	name=$5
	file=$folder/$name
	expect "$status" "$name" "$tambour" check "$file"
	if [ -n "$place" ]; then
		grep -qF "$name:$place" "$work/log"
		say $? "$name: nothing says $place"
		# The line, and a caret below it.
		grep -qF "$name:$place" -A 2 "$work/log" | grep -q '|  *^' || grep -q '^ *| *^' "$work/log"
		say $? "$name: no caret"
	fi
	"$cost" "$work/cost" "$plain/src/cli/tambour" check "$file" >/dev/null 2>"$work/log"
	got=$?
	# Seconds by the clock, seconds of the processor, KiB.
	set -- "$4" $(cat "$work/cost")
	[ "$got" -eq "$status" ] && [ "$4" -le "$most" ]
	say $? "$name: status $got, $4 KiB; not $status, $most KiB"
	awk -v took="$3" -v most="$1" 'BEGIN { exit !(took <= most) }'
	say $? "$name: $3 s, not $1 s"
}

head='Gauge: 14 sts and 9 rows = 10 cm

PIECE
'
piece() { # NAME ROWS
	printf '%s%s\n' "$head" "$2" >"$folder/$1.txt"
}
many() { # COUNT TEXT
	awk -v count="$1" -v text="$2" 'BEGIN { for (i = 0; i < count; i++) printf "%s", text }'
}
first='Row 1: Sc in 2nd ch from hook and in each ch across.'

# Repeats of repeats of repeats.
for body in 'dc in next st' 'dc in same st' 'sk 0 sts' 'ch 0' 'ch 1'; do
	name=nested-$(echo "$body" | tr ' ' -)
	piece "$name" "Ch 100.
$first
Row 2: Ch 1, [[[[$body] 999999 times] 999999 times] 999999 times] 999999 times."
	bound 1 6: 102400 2 "$name.txt"
done
piece open "Ch 100.
Row 1: $(many 60000 '(')"
bound 1 '5:40: error: row 1: brackets stand more than 32 deep' 102400 2 open.txt
piece stars "Ch 100.
Row 1: $(many 4000 '*sc in next ch, ')"
bound 1 5: 131072 2 stars.txt

# 100,000 rows, one by one and up to a length.
piece rows "Ch 2.
Row 1: Sc in 2nd ch from hook, turn.
Row 2: Ch 1, sc in first st, turn.
Rep Row 2 99998 times."
bound 0 '' 102400 2 rows.txt
sed 's/99998/99999/' "$folder/rows.txt" >"$folder/more-rows.txt"
bound 1 '7:1: error: a piece may have 100000 rows' 102400 2 more-rows.txt
sed 's/Rep .*/Rep Row 2 until piece measures 9999 cm./; s/9 rows/900 rows/' "$folder/rows.txt" \
	>"$folder/until.txt"
bound 0 '' 102400 2 until.txt
sed 's/9999 cm/10001 cm/' "$folder/until.txt" >"$folder/too-long.txt"
bound 1 '7:32: error: no piece measures that' 102400 2 too-long.txt

# 20,000,000 stitches: 199 foundations of 100,000 and almost one more. They are kept, so they cost.
{
	printf '%s' "$head" | sed '$d'
	awk 'BEGIN {
		for (i = 1; i <= 200; i++)
			printf "\nPIECE %d:\nCh %d.\nRow 1: Sc in 2nd ch from hook, leave rem sts unworked.\n",
				i, i < 200 ? 100000 : 99800 }'
} >"$folder/all.txt"
bound 0 '' 512000 20 all.txt
sed 's/^Ch 99800/Ch 99801/' "$folder/all.txt" >"$folder/more.txt"
bound 1 '802:8: error: row 1: all pieces and sizes together may have 20000000 sts' 512000 20 more.txt

# Rows of one stitch in 24 sizes: few stitches, and much memory. It is told before it is taken.
letters=$(awk 'BEGIN { for (i = 66; i < 89; i++) printf "%s%c", (i > 66 ? ", " : ""), i }')
{
	printf 'Sizes: A (%s)\n' "$letters"
	awk 'BEGIN {
		for (i = 1; i <= 5; i++)
			printf "\nPIECE %d\nCh 2.\nRow 1: Sc in 2nd ch from hook, turn.\nRow 2: Ch 1, sc in first st, turn.\n" \
				"Rep Row 2 99998 times.\n", i }'
} >"$folder/thin.txt"
bound 1 '12:1: error: row 9' 614400 30 thin.txt
grep -qF 'takes more than 480 MiB of memory' "$work/out" "$work/log" 2>/dev/null ||
	"$tambour" check "$folder/thin.txt" 2>&1 | grep -qF 'takes more than 480 MiB of memory'
say $? "thin.txt: the memory is not told"
# 633 bytes that may be read in very many ways.
piece repeats "Ch 100.
$first
Row 2: Ch 1, $(many 40 'rep 3 times, ')"
bound 1 '6:' 204800 5 repeats.txt

# Drawing: what is laid out, drawn and written has a budget too.
drawn() { # STATUS ROWS KIND
	sed "s/ROWS/$2/" "$folder/large-chart" >"$folder/large-chart.txt"
	expect "$1" "$2 rows of 2000 as $3" "$plain/src/cli/tambour" chart --full "$folder/large-chart.txt" -o "$folder/large.$3"
}
piece large "Ch 2001.
$first
Rows 2-ROWS: Ch 1, turn, sc in each st across."
mv "$folder/large.txt" "$folder/large-chart"
drawn 0 60 svg
drawn 1 630 svg
grep -qF 'large-chart.txt:3:1: error: this chart has 1260630 sts to draw' "$work/log"
say $? "the drawing's limit is not told at its place"

# JSON: deep, wide, and said again.
{
	printf '{"title":'
	many 10000 '['
} >"$folder/deep.json"
bound 1 '1:41: error: this is nested too deeply' 102400 2 deep.json
{
	printf '{"format":1,"title":'
	many 10000 '{"a":'
} >"$folder/braces.json"
bound 1 '1:' 102400 2 braces.json
{
	printf '{"format":1,"pieces":['
	many 1000000 '{},'
	printf '{}]}'
} >"$folder/wide.json"
bound 1 '1:750014: error: the pattern has more than 250000 values' 102400 2 wide.json
{
	printf '{"format":1,"stitches":[{"us":"x"'
	awk 'BEGIN { for (i = 0; i < 60000; i++) printf ",\"k%d\":1", i }'
	printf '}]}'
} >"$folder/keys.json"
bound 1 '1:25: error: stitch x: "k0" is not a key of a stitch' 102400 5 keys.json
{
	printf '{"format":1'
	many 200000 ',"title":"x"'
	printf '}'
} >"$folder/again.json"
bound 1 '1:25: error: "title" is given twice here' 102400 5 again.json

# Words without end.
{
	printf 'Title: a'
	many 2000000 '\314\201'
	printf '\n\nPIECE\nCh 9.\n%s\n' "$first"
} >"$folder/title.txt"
bound 1 '1:1: error: this text is longer than 4000 bytes' 102400 2 title.txt
{
	many 100000 'Yarn: wool
'
	printf '\nPIECE\nCh 9.\n%s\n' "$first"
} >"$folder/yarn.txt"
bound 1 '801:1: error: this text is longer than 4000 bytes' 102400 5 yarn.txt
{
	many 4194305 x
} >"$folder/large.txt"
bound 1 '1:4194305: error: the pattern is larger than 4 MiB' 102400 2 large.txt

# Bytes that are no text.
bytes() { # NAME PLACE BYTES
	printf "$3" >"$folder/$1"
	bound 1 "$2" 102400 2 "$1"
}
bytes surrogate.json '1:12: error: this is not a character after a backslash' \
	'{"title":"a\\ud83eb"}'
bytes low.json '1:12: error: this is not a character' '{"title":"a\\uddf6"}'
bytes pair.json '1:12: error: this is not a character' '{"title":"a\\ud83e\\u0041"}'
bytes utf8.txt '1:11: error: from here on the text is not UTF-8' 'Title: caf\351\n'
bytes overlong.txt '1:8: error: from here on the text is not UTF-8' 'Title: \300\257\n'
bytes half.txt '1:11: error: from here on the text is not UTF-8' 'Title: caf\303'
bytes zero.txt '2:3: error: a zero byte stands in the text' 'Title: a\nb \000c\n'
bytes utf16.txt '1:1: error: the text is in UTF-16' '\377\376T\000i\000t\000'
bytes utf16-be.txt '1:1: error: the text is in UTF-16' '\376\377\000T\000i\000t'

# The same pattern as other systems save it: read alike, and faults at the same places.
cp examples/lantern-vest.json "$folder/plain.json"
cp examples/shell-scarf.txt "$folder/plain.txt"
sed 's/^Row 2:/Row 2: knit,/' "$folder/plain.txt" >"$folder/plain-wrong.txt"
sed 's/dc in next 4 sts/dc in next 400 sts/; s/"title"/"titel"/' "$folder/plain.json" \
	>"$folder/plain-wrong.json"
for name in plain.json plain.txt plain-wrong.txt plain-wrong.json; do
	bare=$(echo "$name" | sed 's/plain/other/')
	cp "$folder/$name" "$folder/$bare"
	"$tambour" check "$folder/$bare" >"$work/right" 2>&1
	status=$?
	for how in crlf cr mark; do
		case $how in
		crlf) sed 's/$/\r/' "$folder/$name" >"$folder/$bare" ;;
		cr) tr '\n' '\r' <"$folder/$name" >"$folder/$bare" ;;
		mark) { printf '\357\273\277' && cat "$folder/$name"; } >"$folder/$bare" ;;
		esac
		expect $status "$name with $how" "$tambour" check "$folder/$bare"
		cat "$work/log" >>"$work/out"
		sort "$work/out" >"$work/out.sorted"
		sort "$work/right" | cmp -s - "$work/out.sorted"
		say $? "$name with $how is read otherwise"
	done
done

# Words of the command line.
cp examples/cuff-rib.json "$folder/cuff.json"
option() { # STATUS COMMAND OPTION VALUE ENDING
	expect "$1" "$2 $3 $4" "$tambour" "$2" "$3" "$4" "$folder/cuff.json" -o "$folder/cuff.$5"
}
option 0 chart --stitch-width 1mm svg
option 2 chart --stitch-width 0.99mm svg
option 0 chart --stitch-width 400mm svg
option 2 chart --stitch-width 400.1mm svg
option 0 poster --sheets 20x1 pdf
option 2 poster --sheets 21x1 pdf
option 2 poster --sheets 1x21 pdf

# Gauges nobody works to, and 25 sizes; those within the limits are in tests/unit/test_limits.c.
for gauge in 0 -1 1e308 -1e308 1e999; do
	printf '{"format":1,"gauge":{"stitches":%s,"over":"10 cm"},"pieces":[]}' $gauge \
		>"$folder/gauge$gauge.json"
	bound 1 '1:33: error: the stitches of a gauge' 102400 2 "gauge$gauge.json"
	printf 'Gauge: %s sts and 9 rows = 10 cm\n\nPIECE\nCh 9.\n%s\n' $gauge "$first" \
		>"$folder/gauge$gauge.txt"
	bound 1 '1:8: error: a gauge' 102400 2 "gauge$gauge.txt"
done
printf '{"format":1,"gauge":{"stitches":NaN,"over":"10 cm"}}' >"$folder/nan.json"
bound 1 '1:33: error: texts stand in quotes' 102400 2 nan.json
sizes=$(awk 'BEGIN { for (i = 3; i < 25; i++) printf ", %d", i }')
holes=$(awk 'BEGIN { for (i = 3; i < 25; i++) printf ", %s", i % 3 ? i % 3 == 1 ? "-" : 0 : 3 }')
piece holes "Ch 9.
$first
Row 2: Ch 1, sc in next 2 sts, [sc in next 2 sts] 3 (3$holes) times, leave rem sts unworked."
sed "1s/^/Sizes: 1 (2$sizes)\n/" "$folder/holes.txt" >"$folder/sizes.txt"
bound 0 '' 102400 2 sizes.txt
sed '1s/, 24/, 24, 25/' "$folder/sizes.txt" >"$folder/more-sizes.txt"
bound 1 '1:8: error: 25 sizes are given; a pattern may have 24' 102400 2 more-sizes.txt
