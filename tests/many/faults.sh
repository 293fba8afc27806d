# A pattern with faults, or a file that is not there, keeps none of the others back. Of the statuses
# the highest counts.

mkdir -p faults good
cp p/Cloth*001.txt faults/a.txt
sed 's/Dc in 4th/Dc in 400th/' faults/a.txt >faults/b.txt
cp p/Puffs*006.json faults/c.json
echo '{"format": 1,' >faults/d.json
cp p/Vees*005.txt faults/e.txt
for good in a c e; do
	"$tambour" chart faults/$good.* -o good/$good.svg 2>log
	say $? "$good by itself"
done
"$tambour" chart faults/b.txt -o good/b.svg 2>b.log
[ $? -eq 1 ]
say $? "b by itself has no faults"

goes_on() { # STATUS WHAT ARGUMENT...: with the good ones written, and only those
	rm -rf went
	mkdir went
	status=$1
	shift
	expect "$status" "$@"
	diff -rq good went >>log
	say $? "$what: not exactly the good ones were written"
}
goes_on 1 "two with faults" "$tambour" chart faults/* -o 'went/{}.svg'
grep -qE '^faults/b\.txt:[0-9]+:[0-9]+: error: ' log && grep -qE '^faults/d\.json:[0-9]+:[0-9]+: error: ' log
say $? "two with faults: not told as FILE:LINE:COLUMN"
grep -v -e '^faults/d' -e '^tambour: ' log | grep -cxFf b.log >told
[ "$(cat told)" -ge "$(wc -l <b.log)" ]
say $? "two with faults: one is not told as in a run of its own"
tells "2 of 5 patterns did not come out"
goes_on 3 "faults, and one missing" "$tambour" chart faults/a.txt faults/none.txt faults/[b-e]* \
	-o 'went/{}.svg'
tells "cannot open faults/none.txt: No such file"
tells "3 of 6 patterns did not come out"
goes_on 3 "a folder for a pattern" "$tambour" chart faults/[ace].* faults -o 'went/{}.svg'

# What the options name may be missing in one: the others have it.
sed 's/PIECE/OTHER/' faults/a.txt >other.txt
goes_on 2 "a piece that one has not" "$tambour" chart faults/a.txt other.txt faults/[ce].* --piece piece \
	-o 'went/{}.svg'
tells "other.txt: there is no piece 'piece'"
printf 'Title: None\nSizes: tiny (huge)\n\nPIECE\nCh 5 (7).\nRow 1: Sc in 2nd ch from hook and in each ch across.\n' >sizes.txt
expect 2 "a size that one has not" "$tambour" chart sizes.txt faults/a.txt --size tiny -o 'went/{}.svg'
tells "faults/a.txt: there is no size 'tiny'"
expect 1 "a size that could not be read" "$tambour" chart faults/d.json --size tiny -o went/d.svg

# A place that takes no file is that pattern's.
rm -rf went
mkdir -p went/c.svg
expect 3 "a folder in the place" "$tambour" chart faults/[ace].* -o 'went/{}.svg'
cmp went/a.svg good/a.svg >>log && cmp went/e.svg good/e.svg >>log
say $? "a folder in the place of one keeps others back"

expect 1 "check of all" "$tambour" check faults/*
[ "$(grep -c '^==> ' text)" -eq 5 ] && [ "$(grep -c '^Every row comes out' text)" -eq 3 ]
say $? "check of all: not five names and three that come out"
expect 0 "check with standard input among them" sh -c '"$1" check faults/a.txt - faults/e.txt <faults/c.json' \
	sh "$tambour"
grep -qx '==> - <==' text
say $? "standard input is not named"

# Where nobody listens any more, there is no use in going on.
if [ -w /dev/full ]; then
	"$tambour" check p/* >/dev/full 2>log
	[ $? -eq 3 ] && [ "$(wc -l <log)" -eq 1 ]
	say $? "standard output on a full disk: not status 3, or told again and again"
fi
