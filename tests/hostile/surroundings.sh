# A computer without fonts, without a home, and in another country. Sourced by run.

folder=$work/surroundings
mkdir -p "$folder"
cd "$folder" || exit 2

# No fonts: what has words in it cannot be made, and what was there stays.
echo '<fontconfig></fontconfig>' >none.conf
for kind in $kinds; do
	ending=$(ending "$kind")
	cp "$work/old" "chart.$ending"
	expect_told 3 'no font' "$kind without fonts" env FONTCONFIG_FILE="$folder/none.conf" sh -c '
		tambour=$1 pattern=$2 kind=$3 ending=$4
		case $kind in
		html) "$tambour" page "$pattern" -o chart.html ;;
		sheet | poster) "$tambour" "$kind" "$pattern" -o chart.pdf ;;
		symbols) "$tambour" symbols -o chart.svg ;;
		*) "$tambour" chart "$pattern" -o "chart.$ending" ;;
		esac' sh "$tambour" "$pattern" "$kind" "$ending"
	cmp -s "chart.$ending" "$work/old"
	say $? "$kind without fonts: the old file is gone"
done
expect 0 'check without fonts' env FONTCONFIG_FILE="$folder/none.conf" "$tambour" check "$pattern"
expect 0 'rows without fonts' env FONTCONFIG_FILE="$folder/none.conf" "$tambour" rows "$pattern"

same() { # WHAT FILE REFERENCE
	cmp -s "$2" "$3"
	say $? "$1: the result is another"
}

# No home, or one that nothing can be kept in.
expect 0 'no HOME' env -u HOME -u XDG_CACHE_HOME "$tambour" chart "$pattern" -o home.svg
same 'no HOME' home.svg "$work/new.svg"
expect 0 'a HOME that is not there' env HOME=/nonexistent XDG_CACHE_HOME=/proc/none \
	"$tambour" chart "$pattern" -o home2.svg
same 'a HOME that is not there' home2.svg "$work/new.svg"
expect 0 'no environment at all' env -i ASAN_OPTIONS="$asan" LSAN_OPTIONS="${LSAN_OPTIONS:-}" \
	"$tambour" chart "$pattern" -o home3.svg
[ -s home3.svg ]
say $? 'no environment at all: nothing is drawn'

# Other countries write other numbers and letters. The measurements have a fraction each.
everything() {
	vest=$here/../../examples/cuff-rib.json
	for kind in svg json pdf png; do
		"$tambour" chart "$vest" -o "$1.$kind"
	done
	"$tambour" page "$vest" -o "$1.html"
	"$tambour" sheet "$vest" -o "$1.sheet.pdf"
	"$tambour" check "$vest" >"$1.check"
	"$tambour" check --json "$vest" >"$1.check.json"
	"$tambour" rows --terms uk "$vest" >"$1.rows"
	printf 'Gauge: 13.5 sts and 9.25 rows\n\nPIECE\nCh 2.\nRow 1: Sc in next.\n' |
		"$tambour" check - >"$1.check.wrong" 2>"$1.faults"
}
SOURCE_DATE_EPOCH=86400
export SOURCE_DATE_EPOCH
in_country() { # LOCALE NAME
	(
		LC_ALL=$1
		export LC_ALL
		everything "$2"
	) 2>"$work/log"
}
in_country C c
abroad() { # WHAT NAME
	for made in c.*; do
		same "$1, ${made#c.}" "$2.${made#c.}" "$made"
	done
}
in_country no_SUCH.COUNTRY none
abroad 'an unknown country' none
if localedef -i de_DE -f UTF-8 "$folder/de_DE.UTF-8" >/dev/null 2>&1; then
	LOCPATH=$folder LC_ALL=de_DE.UTF-8 locale -k decimal_point | grep -q '","'
	say $? 'the country of the tests writes no comma'
	LOCPATH=$folder
	export LOCPATH
	in_country de_DE.UTF-8 comma
	unset LOCPATH
	abroad 'a country with a comma' comma
else
	untried 'a country that writes commas' 'its locale cannot be made (package locales)'
fi
unset SOURCE_DATE_EPOCH
cd "$here/../.." || exit 2
