# What a pattern is read from: no file, another kind of file, a file that changes. Sourced by run.

folder=$work/inputs
mkdir -p "$folder"

expect_told 3 'No such file' 'a pattern that is not there' "$tambour" check "$folder/none.txt"
expect_told 3 'Is a directory' 'a folder for a pattern' "$tambour" check "$folder"
expect_told 3 'No such file' 'a link to nothing' "$tambour" check "$folder/link.txt"
expect_told 1 'larger than 4 MiB' 'a file without end' "$tambour" check /dev/zero
expect_told 1 'the pattern is empty' '/dev/null' "$tambour" check /dev/null
closed_input() {
	"$@" <&-
}
expect_told 3 'cannot read standard input' 'standard input closed' closed_input "$tambour" check -

# A pipe: slow, cut off, and without end.
"$tambour" check "$pattern" >"$work/right" 2>"$work/log"
slowly() {
	(head -c 100 "$pattern"; sleep 0.3; tail -c +101 "$pattern") | "$tambour" check -
}
expect 0 'a slow pipe' slowly
cmp -s "$work/out" "$work/right"
say $? 'a slow pipe reads something else'
endless() {
	yes 'Note: wool.' | "$tambour" check -
}
expect_told 1 'larger than 4 MiB' 'a pipe without end' endless
mkfifo "$folder/fifo.txt"
cp "$pattern" "$folder/whole.txt"
fifo() {
	(cat "$folder/whole.txt" >"$folder/fifo.txt" &)
	"$tambour" check "$folder/fifo.txt"
}
expect 0 'a named pipe' fifo
cmp -s "$work/out" "$work/right"
say $? 'a named pipe reads something else'

# Saved, in place, after the first of it was read. Longer than what is read at once, so that a
# careless reader would have half of each.
long() { # TITLE COUNT
	printf 'Title: %s\nGauge: 14 sts and 9 rows = 10 cm\n\nPIECE\n' "$1"
	printf '%070000d\n' 0 | tr 0 '\n'
	printf 'Ch %d.\nRow 1: Sc in 2nd ch from hook and in each ch across.\n' $(($2 + 1))
}
long ONE 10 >"$folder/one.txt"
long TWO 20 >"$folder/two.txt"
meddled_check() { # DEED NEW
	cp "$folder/one.txt" "$folder/read.txt"
	MEDDLE_FILE=$folder/read.txt MEDDLE_NEW=${2:-} meddled "$1" "$tambour" check --json \
		"$folder/read.txt"
}
"$tambour" check --json "$folder/two.txt" >"$work/right" 2>"$work/log"
expect 0 'a pattern saved while it is read' meddled_check fread:1:save "$folder/two.txt"
cmp -s "$work/out" "$work/right"
say $? 'a pattern saved while it is read: half of each was read'
expect_told 3 'is being written' 'a pattern saved again and again' meddled_check fread:0:touch
expect_told 1 'no piece is found' 'a pattern cut short while it is read' meddled_check fread:1:cut
