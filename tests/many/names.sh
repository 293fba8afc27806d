# Where results go, and what is refused before anything is read or written.

mkdir -p names/a names/b out
cp p/Cloth*001.txt names/a/x.txt
cp p/Puffs*006.json names/b/x.json
cp p/Cloth*001.txt names/a/y.txt
cp p/Cloth*001.txt names/a/two.points.txt
cp p/Cloth*001.txt names/a/.dot
cp p/Cloth*001.txt names/a/-o.txt
cp p/Cloth*001.txt names/a/plain

refused() { # WORDS WHAT ARGUMENT...
	words=$1
	shift
	expect 2 "$@"
	tells "$words"
	keeps_empty out
}

refused "-o 'out/{}.svg'" "no {}" "$tambour" chart names/a/x.txt names/a/y.txt -o out/x.svg
refused "-o 'out/{}.svg'" "all to standard output" "$tambour" chart names/a/x.txt names/a/y.txt -o -
[ ! -s text ]
say $? "all to standard output: something came out"
refused "-o 'out/{}.pdf'" "no {} for sheets" "$tambour" sheet names/a/x.txt names/a/y.txt -o out/x.pdf
for two in "names/a/x.txt names/b/x.json" "names/a/y.txt names/a/x.txt names/a/x.txt"; do
	# shellcheck disable=SC2086 # these have no blanks
	refused "x.svg; nothing was written" "one place for two" "$tambour" chart $two -o 'out/{}.svg'
	tells "names/a/x.txt and ${two##* } would both"
done
refused "no name to put for {}" "standard input for {}" "$tambour" chart - names/a/x.txt -o 'out/{}.svg'
refused "no name to put for {}" "standard input alone" "$tambour" chart - -o 'out/{}.svg'
refused "read only once" "standard input twice" "$tambour" check - -
refused "--watch follows one pattern; what is 'names/a/y.txt'?" "watching two" "$tambour" chart \
	--watch names/a/x.txt names/a/y.txt -o 'out/{}.svg'
refused "--json is about one pattern" "JSON of two" "$tambour" check --json names/a/x.txt names/a/y.txt
refused "is written as .svg, .pdf, .png or .json" "an ending of nothing" "$tambour" chart \
	names/a/x.txt names/a/y.txt -o 'out/{}.doc'
refused "--hand is right or left" "a wrong value, many patterns" "$tambour" chart names/a/x.txt \
	names/none.txt --hand middle -o 'out/{}.svg'
cp names/b/x.json kept.json
ln names/b/x.json names/linked.json
refused "would lose the pattern names/b/x.json" "over the pattern" "$tambour" chart names/b/x.json \
	names/a/y.txt -o 'names/b/{}.json'
refused "would lose the pattern" "over the pattern by another name" "$tambour" chart names/b/x.json \
	-o names/linked.json
cmp kept.json names/b/x.json >log
say $? "a pattern was written over"

expect 3 "a missing folder" "$tambour" chart names/a/x.txt names/a/y.txt -o 'none/{}.svg'
tells "there is no folder none; make it first"
[ "$(wc -l <log)" -eq 1 ] && [ ! -e none ]
say $? "a missing folder: told more than once, or made"
mkdir -p out/x
expect 3 "one folder of two is missing" "$tambour" chart names/a/x.txt names/a/y.txt -o 'out/{}/c.svg'
tells "no folder out/y"
keeps_empty out/x
rmdir out/x

# A name is without its folder and its last ending; a point in front is no ending.
gives() { # FILE OUTPUT PATTERN...
	made=$1
	output=$2
	shift 2
	expect 0 "$output" "$tambour" chart "$@" -o "$output"
	[ -s "$made" ]
	say $? "-o $output does not write $made"
	rm -rf "${made:?}"
}
gives out/x.svg 'out/{}.svg' names/a/x.txt
gives out/two.points.svg 'out/{}.svg' names/a/two.points.txt
gives out/.dot.svg 'out/{}.svg' names/a/.dot
gives out/plain.svg 'out/{}.svg' names/a/plain
gives out/x-and-x.svg 'out/{}-and-{}.svg' names/a/x.txt
mkdir out/x out/y
gives out/y/y.svg 'out/{}/{}.svg' names/a/x.txt names/a/y.txt
rm -rf out/x out/y
gives out/y.svg 'out/{}.svg' names/a/x.txt names/a/y.txt
(cd names/a && "$tambour" chart ./-o.txt y.txt -o '{}.svg' >../../log 2>&1 && [ -s ./-o.svg ] && [ -s y.svg ])
say $? "a name that looks like an option"
