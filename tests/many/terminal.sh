# What is shown at a terminal while it takes long. A pipe that is slow to fill takes long on any
# machine.

if ! script -qec true /dev/null </dev/null >/dev/null 2>&1; then
	echo "not tried: a terminal: script(1) can make none here"
	return 0
fi
clear=$(printf '\r\033[K')

slow() { # NAME PATTERN TERM COMMAND: COMMAND in a terminal, its $slow coming after 1.7 s
	mkfifo "$1.txt"
	(
		sleep 1.7
		timeout 60 sh -c 'cat "$1" >"$2"' sh "$2" "$1.txt"
	) &
	slow=$1.txt TERM=$3 tambour=$tambour timeout 60 script -qec "$4" /dev/null </dev/null >"$1.seen" 2>&1
	echo $? >"$1.status"
	wait
}
# All at once: each only waits.
slow steps faults/a.txt xterm '"$tambour" chart "$slow" -o steps.svg' &
slow many faults/a.txt xterm '"$tambour" chart faults/c.json "$slow" faults/e.txt -o "good/{}.svg"' &
slow fault faults/b.txt xterm '"$tambour" chart "$slow" -o fault.svg' &
slow narrow faults/a.txt xterm 'stty cols 12; "$tambour" chart "$slow" -o narrow.svg' &
slow dumb faults/a.txt dumb '"$tambour" chart "$slow" -o dumb.svg' &
slow piped faults/a.txt xterm '"$tambour" chart "$slow" -o piped.svg 2>piped.errors' &
slow text faults/a.txt xterm '"$tambour" check "$slow"' &
wait
cp steps.seen log
grep -qF "steps.txt: reading" steps.seen
say $? "a slow pattern: nothing is shown"
[ "$(cat steps.status)" -eq 0 ] && cmp -s steps.svg good/a.svg
say $? "a slow pattern: the chart is another"
[ "$(tail -c 4 steps.seen)" = "$clear" ]
say $? "a slow pattern: the line stays"
cp many.seen log
grep -qF "2 of 3, many.txt: reading" many.seen
say $? "many patterns: it is not said which of them"
cp fault.seen log
[ "$(cat fault.status)" -eq 1 ] && grep -qF "fault.txt: reading" fault.seen &&
	grep -qF "${clear}fault.txt:" fault.seen && ! tr '\r' '\n' <fault.seen | grep -q 'reading.*error'
say $? "a fault does not stand on a line of its own"
cp text.seen log
grep -qF "${clear}Piece" text.seen
say $? "a text does not stand on lines of its own"
# 12 columns: 11 are used, so that the line never wraps.
cp narrow.seen log
tr '\r' '\n' <narrow.seen | grep -q '^narrow\.txt:'
say $? "a narrow terminal: nothing is shown"
! tr '\r' '\n' <narrow.seen | tr -d '\033' | sed 's/\[K//g' | grep -q '............'
say $? "a narrow terminal: the line is too wide"
cp dumb.seen log
[ ! -s dumb.seen ] && [ "$(cat dumb.status)" -eq 0 ]
say $? "a dumb terminal is written to"
cat piped.seen piped.errors >log
[ ! -s log ] && [ "$(cat piped.status)" -eq 0 ]
say $? "a file of errors holds more than errors"

# What is quick shows nothing. A machine may be busy: one quick run of twelve will do.
quick=1
for try in 1 2 3 4 5 6 7 8 9 10 11 12; do
	TERM=xterm script -qec "'$cost' cost-quick '$tambour' chart faults/a.txt -o quick.svg" /dev/null \
		</dev/null >log 2>&1
	if awk '$1 >= 0.9 { exit 1 }' cost-quick; then
		[ ! -s log ]
		quick=$?
		break
	fi
done
say $quick "what is quick is shown, or nothing was quick in $try runs"

# A pattern so large that it takes its time, however fast the machine.
rows=50
while :; do
	cat >large.txt <<EOT
Gauge: 14 sts and 9 rows = 10 cm

PIECE
Ch 402.
Row 1: Dc in 4th ch from hook and in each ch across, turn.
Row 2: Ch 3 (counts as dc), sk first st, dc in each st across, turn.
Rep Row 2 $((rows - 2)) times.
EOT
	TERM=xterm script -qec "'$cost' cost-large '$tambour' chart --full --stitch-width 1mm --dpi 25 large.txt -o large.png" \
		/dev/null </dev/null >log 2>&1
	awk '$1 < 1.5 { exit 1 }' cost-large && break
	[ $rows -ge 50000 ] && break
	rows=$((rows * 4))
done
grep -qE 'large\.txt: (reading|working the rows|placing the stitches|drawing|writing)' log
say $? "$((rows * 400)) stitches: no step is shown"
[ -s large.png ] && [ "$(tail -c 4 log)" = "$clear" ]
say $? "$((rows * 400)) stitches: the line stays, or nothing was drawn"
