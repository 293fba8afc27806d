# One run of 200 patterns, eight runs on two cores, and a run for each: the same bytes.

mkdir one two single kinds
# The sanitizers keep what was freed for a while, and look for leaks at the end: both would count as
# memory used. Leaks are looked for below, in the other kinds of output.
kept=${ASAN_OPTIONS:-}
export ASAN_OPTIONS="$kept:quarantine_size_mb=1:detect_leaks=0"

expect 0 "200 patterns in one run" "$cost" cost-one "$tambour" chart p/* -o 'one/{}.svg'
expect 0 "the largest of them" "$cost" cost-single "$tambour" chart "p/$(cd p && ls -S | head -n 1)" \
	-o kinds/large.svg
rm kinds/large.svg
[ "$(find one -name '*.svg' | wc -l)" -eq 200 ]
say $? "200 patterns in one run: not 200 charts"

expect 0 "200 patterns on two cores" "$cost" cost-two sh -c \
	'find p -type f -print0 | xargs -0 -P 2 -n 25 "$1" chart -o "two/{}.svg"' sh "$tambour"
diff -rq one two >log
say $? "charts differ by who was drawn before them"

# Every fifth by itself, in each kind of output by turns; all seven kinds of patterns meet all four.
n=0
for pattern in p/*; do
	n=$((n + 1))
	case $((n % 20)) in
	0) kind=svg ;;
	5) kind=pdf ;;
	10) kind=png ;;
	15) kind=json ;;
	*) continue ;;
	esac
	name=${pattern##*/}
	"$tambour" chart "$pattern" -o "single/${name%.*}.$kind" 2>log
	say $? "$name in a run of its own"
done
ASAN_OPTIONS=$kept
for kind in pdf png json; do
	set --
	for chart in single/*."$kind"; do
		name=${chart##*/}
		set -- "$@" p/"${name%.*}".*
	done
	expect 0 "one run, $kind" "$tambour" chart "$@" -o "kinds/{}.$kind"
done
n=0
for chart in single/*; do
	case $chart in
	*.svg) cmp "$chart" "one/${chart##*/}" ;;
	*) cmp "$chart" "kinds/${chart##*/}" ;;
	esac >>log 2>&1 && n=$((n + 1))
done
[ "$n" -eq 40 ] && [ "$(find kinds -type f | wc -l)" -eq 30 ]
say $? "$n of 40 charts are those of runs of their own"

# Memory is that of one pattern, not of all before it.
cat cost-one cost-single | awk '{ most[NR] = $3 }
	END { printf "%d KiB for 200 patterns, %d for one\n", most[1], most[2]; exit most[1] > 1.6 * most[2] }' >log
say $? "memory grows from pattern to pattern"
cat cost-one cost-two | awk '{ wall[NR] = $1; cpu[NR] = $2 } END {
	printf "two cores against one: %.2f of the time, %.2f of the work\n", wall[2] / wall[1], cpu[2] / cpu[1] }'

# What prints, and the page, take the same way.
for kind in sheet:pdf poster:pdf page:html; do
	command=${kind%:*}
	ending=${kind#*:}
	mkdir "$command"
	expect 0 "$command, several" "$tambour" "$command" p/Puffs*006.json p/Puffs*007.txt p/Disc*011.txt \
		-o "$command/{}.$ending"
	"$tambour" "$command" p/Puffs*007.txt -o "alone.$ending" 2>log &&
		cmp "alone.$ending" "$command"/Puffs*007."$ending" >log
	say $? "$command: not the one of a run of its own"
	[ "$(find "$command" -type f | wc -l)" -eq 3 ]
	say $? "$command: not 3 files"
done

# A puff that one pattern brings with it is not there for the next, which means the usual one.
grep -q 'puff of our own' page/Puffs*006.html && ! grep -q 'puff of our own' page/Puffs*007.html &&
	grep -q 'puff of 3 hdc' page/Puffs*007.html
say $? "own stitches: not in the page of their pattern, or in another's"

# Texts stand under the name of their file.
for command in check rows; do
	expect 0 "$command, all" "$tambour" "$command" p/*
	: >wanted
	for pattern in p/*.json p/*001.txt p/*002.txt; do
		"$tambour" "$command" "$pattern" >alone.txt 2>log
		awk -v name="==> $pattern <==" '
			$0 == name { on = 1; next }
			on && /^==> / { exit }
			on' text | sed '$ { /^$/d; }' >part.txt
		cmp alone.txt part.txt >>wanted 2>&1
	done
	[ "$(grep -c '^==> .* <==$' text)" -eq 200 ] && [ ! -s wanted ]
	say $? "$command: the texts are not those of runs of their own, each under its name"
done

# Recipes from the manual.
if command -v make >/dev/null 2>&1; then
	mkdir -p made/out
	cp p/*-0*.txt made
	printf 'out/%%.svg: %%.txt\n\t"%s" chart $< -o $@\n' "$tambour" >made/Makefile
	(cd made && for pattern in *.txt; do echo "out/${pattern%.txt}.svg"; done | xargs make -s -j2) \
		>log 2>&1
	for chart in made/out/*; do
		cmp "$chart" "one/${chart##*/}" || echo "$chart"
	done >log 2>&1
	[ ! -s log ] && [ "$(find made/out -type f | wc -l)" -eq "$(find made -name '*.txt' | wc -l)" ]
	say $? "charts by make differ"
fi
