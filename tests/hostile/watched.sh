# --watch on a file that is replaced, rewritten, taken away and put back. Sourced by run.

folder=$work/watched
mkdir -p "$folder"
chart=$folder/chart.svg
other=examples/ripple-blanket.txt
pid=

begin() { # PATTERN
	rm -f "$chart"
	"$tambour" chart "$1" -o "$chart" --watch >"$work/out" 2>"$work/log" &
	pid=$!
}

# The chart becomes REFERENCE, and is never anything but whole on the way.
becomes() { # REFERENCE WHAT
	waited=0
	broken=0
	until cmp -s "$chart" "$1" || [ $waited -ge 100 ]; do
		[ ! -e "$chart" ] || cmp -s "$chart" "$work/new.svg" || cmp -s "$chart" "$work/other.svg" ||
			cmp -s "$chart" "$1" || broken=1
		waited=$((waited + 1))
		sleep 0.1
	done
	cmp -s "$chart" "$1"
	say $? "--watch: $2 is not seen"
	say $broken "--watch: $2: a chart that is not whole"
}

finish() { # SIGNAL
	kill -s "$1" $pid
	wait $pid
	say $? "--watch: $1 ends it with status $?"
}

cp "$pattern" "$folder/read.txt"
begin "$folder/read.txt"
becomes "$work/new.svg" 'the pattern'

cp "$other" "$folder/beside.txt"
mv "$folder/beside.txt" "$folder/read.txt"
becomes "$work/other.svg" 'another file of that name'

head -c 200 "$pattern" >"$folder/read.txt"
sleep 0.05
tail -c +201 "$pattern" >>"$folder/read.txt"
becomes "$work/new.svg" 'a file written over'

rm "$folder/read.txt"
sleep 0.3
kill -0 $pid
say $? '--watch: it ends when the pattern is gone'
cmp -s "$chart" "$work/new.svg"
say $? '--watch: the chart is gone with the pattern'
cp "$other" "$folder/read.txt"
becomes "$work/other.svg" 'a file put back'

# While it is wrong, the last chart that was right stays.
echo 'Row 9: knit.' >>"$folder/read.txt"
waited=0
until grep -q 'read.txt:[0-9]*:[0-9]*: error' "$work/log" || [ $waited -ge 100 ]; do
	waited=$((waited + 1))
	sleep 0.1
done
grep -q 'read.txt:[0-9]*:[0-9]*: error' "$work/log"
say $? '--watch: a fault is not told'
cmp -s "$chart" "$work/other.svg"
say $? '--watch: a faulty pattern took the chart away'
cp "$pattern" "$folder/read.txt"
becomes "$work/new.svg" 'a fault mended'
! has_crumbs "$folder"
say $? '--watch leaves files of other names'
finish TERM

# Through a link: the file at its end is replaced, and the link led elsewhere.
mkdir "$folder/far"
cp "$pattern" "$folder/far/read.txt"
ln -s far/read.txt "$folder/link.txt"
begin "$folder/link.txt"
becomes "$work/new.svg" 'a pattern behind a link'
cp "$other" "$folder/far/beside.txt"
mv "$folder/far/beside.txt" "$folder/far/read.txt"
becomes "$work/other.svg" 'another file behind the link'
cp "$pattern" "$folder/elsewhere.txt"
ln -sf elsewhere.txt "$folder/link.txt"
becomes "$work/new.svg" 'a link led elsewhere'
finish HUP

# Under nohup it stays.
begin_kept() {
	trap '' HUP
	begin "$1"
	trap 'exit 2' HUP
}
begin_kept "$folder/elsewhere.txt"
becomes "$work/new.svg" 'the pattern, under nohup'
kill -s HUP $pid
cp "$other" "$folder/elsewhere.txt"
becomes "$work/other.svg" 'a file saved after the terminal was closed'
finish TERM
