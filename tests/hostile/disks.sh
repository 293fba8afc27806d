# Where an output goes: full, closed, forbidden, or no place for a file. Sourced by run.

mkdir -p "$work/disks"
cd "$work/disks" || exit 2

write() { # KIND FILE
	case $1 in
	svg | pdf | png | json) "$tambour" chart "$pattern" -o "$2" ;;
	html) "$tambour" page "$pattern" -o "$2" ;;
	sheet | poster) "$tambour" "$1" "$pattern" -o "$2" ;;
	symbols) "$tambour" symbols -o "$2" ;;
	esac
}

ending() { # KIND
	case $1 in
	sheet | poster) echo pdf ;;
	symbols) echo svg ;;
	*) echo "$1" ;;
	esac
}

kinds='svg pdf png json html sheet poster symbols'

# Standard output on a full disk.
to_full() {
	"$@" >/dev/full
}
if [ -w /dev/full ]; then
	for kind in svg html sheet poster symbols; do
		expect_told 3 'standard output: No space' "$kind to a full disk" to_full write $kind -
	done
	for kind in $kinds; do
		ln -sf /dev/full "full.$(ending "$kind")"
		expect_told 3 'No space left' "$kind to a full device" write "$kind" "full.$(ending "$kind")"
	done
	expect_told 3 'No space' 'check to a full disk' to_full "$tambour" check "$pattern"
	expect_told 3 'No space' 'check --json to a full disk' to_full "$tambour" check --json "$pattern"
	expect_told 3 'No space' 'rows to a full disk' to_full "$tambour" rows "$pattern"
	expect_told 3 'cannot write' '--help to a full disk' to_full "$tambour" --help
	expect_told 3 'cannot write' 'chart --help to a full disk' to_full "$tambour" chart --help
	expect_told 3 'cannot write' '--version to a full disk' to_full "$tambour" --version
else
	untried 'a full standard output' 'there is no /dev/full'
fi

# A pipe whose reader is gone, and no standard output at all.
mkfifo pipe
exec 3<>pipe 4>pipe 3>&-
to_nobody() {
	"$@" >&4
}
closed() {
	"$@" >&-
}
for how in to_nobody closed; do
	expect_told 3 'standard output' "svg: $how" $how write svg -
	expect_told 3 'standard output' "sheet: $how" $how write sheet -
	expect_told 3 'standard output' "check: $how" $how "$tambour" check "$pattern"
	expect_told 3 'standard output' "rows: $how" $how "$tambour" rows "$pattern"
	expect_told 3 'standard output' "--help: $how" $how "$tambour" --help
done
exec 4>&-

# With nothing open at all, a file is still a file.
bare() {
	"$@" <&- >&- 2>&-
}
expect 0 'no standard streams' bare write svg bare.svg
cmp -s bare.svg "$work/new.svg"
say $? 'no standard streams: the file is not whole'

# The shell's limit on how large a file may be.
limited() {
	(
		ulimit -f 2
		"$@"
	)
}
cp "$work/old" limited.svg
for kind in $kinds; do
	expect_told 3 'too large' "$kind past the limit on files" limited write "$kind" \
		"limited.$(ending "$kind")"
done
cmp -s limited.svg "$work/old" && [ ! -e limited.pdf ] && ! has_crumbs .
say $? 'the limit on files left a half file, or crumbs'
to_limited() {
	limited "$@" >limited.out
}
expect_told 3 'too large' 'standard output past the limit' to_limited write svg -

# What is no place for a file.
mkdir folder.svg
expect_told 3 'Is a directory' 'a folder of that name' write svg folder.svg
expect_told 3 'Not a directory' 'a file for a folder' write svg limited.svg/chart.svg
expect_told 3 'no folder' 'a folder that is not there' write svg nowhere/chart.svg
expect_told 3 'cannot write' 'a file in /proc' write svg /proc/tambour.svg
# Empty, it is a folder like any other.
if [ -d /sys/kernel ]; then
	expect_told 3 'cannot write' 'a file in /sys' write svg /sys/tambour.svg
else
	untried 'a file in /sys' 'it is not mounted here'
fi
ln -s loop.svg loop.svg
expect_told 3 'symbolic links' 'a link to itself' write svg loop.svg
ln -s far.svg near.svg
expect 0 'a link to nothing yet' write svg near.svg
[ -L near.svg ] && cmp -s far.svg "$work/new.svg"
say $? 'a link to nothing yet is no link any more'
cp "$work/old" kept.svg
chmod 640 kept.svg
expect 0 'a file with a mode of its own' write svg kept.svg
[ "$(stat -c %a kept.svg)" = 640 ] && cmp -s kept.svg "$work/new.svg"
say $? 'a file has another mode than before'
long=$(printf '%0300d' 0)
expect_told 3 'too long' 'a name that is too long' write svg "$long.svg"

# A disk that is full, and one that is read only: mounted here, where this computer lets us.
alone=
for try in 'unshare -m' 'unshare -rm'; do
	[ -z "$alone" ] && $try mount -t tmpfs -o size=64k none "$work/disks/folder.svg" 2>/dev/null &&
		alone=$try
done
if [ -n "$alone" ]; then
	mkdir small
	cat >small.sh <<-'EOT'
		mount -t tmpfs -o size=64k none small && cp "$2" small/chart.svg || exit 9
		"$1" chart "$3" -o small/chart.svg && exit 8
		cmp -s small/chart.svg "$2" || exit 7
		"$1" page "$3" -o small/page.html && exit 6
		[ "$(ls -A small)" = chart.svg ] || exit 5
		mount -o remount,bind,ro small || exit 2
		"$1" chart "$3" -o small/chart.svg
		status=$?
		[ "$(ls -A small)" = chart.svg ] || exit 4
		exit $status
	EOT
	expect_told 3 'No space left' 'a full disk, and a read-only one' $alone sh small.sh \
		"$tambour" "$work/old" "$pattern"
	grep -q 'Read-only file system' "$work/log"
	say $? 'a read-only disk is not told'
else
	untried 'a full and a read-only disk' 'nothing can be mounted here'
fi

# A folder, a file and a pattern closed to whoever runs it.
other=
if [ "$(id -u)" -eq 0 ]; then
	# Whose files these are not may not read the list of known leaks either, in a clone under /root.
	other='setpriv --reuid=65534 --regid=65534 --clear-groups env LSAN_OPTIONS= ASAN_OPTIONS=detect_leaks=0'
	$other "$tambour" check "$pattern" >/dev/null 2>"$work/log" || other=none
fi
if [ "$other" != none ]; then
	mkdir -m 555 shut
	cp "$work/old" mine.svg
	chmod 444 mine.svg
	cp "$pattern" secret.txt
	chmod 000 secret.txt
	chmod 777 .
	[ "$(id -u)" -ne 0 ] || chown 65534 mine.svg
	expect_told 3 'Permission denied' 'a folder that is shut' $other "$tambour" chart "$pattern" \
		-o shut/chart.svg
	expect_told 3 'Permission denied' 'a file that is shut' $other "$tambour" chart "$pattern" \
		-o mine.svg
	cmp -s mine.svg "$work/old"
	say $? 'a file that is shut was replaced'
	expect_told 3 'Permission denied' 'a pattern that is shut' $other "$tambour" check secret.txt
else
	untried 'what is shut to other users' 'no other user can run the program here'
fi
cd "$here/../.." || exit 2
