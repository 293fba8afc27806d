# Killed, refused or hurried at exact moments of a write, and two runs at once. Sourced by run.

# In memory, where files without names are known; an older disk under $work may know none.
folder=$(mktemp -d -p /dev/shm 2>/dev/null) || {
	folder=$work/killed
	mkdir "$folder"
}
memory=$folder

meddled() { # DEEDS COMMAND...
	deeds=$1
	shift
	ASAN_OPTIONS=$asan:detect_leaks=0:verify_asan_link_order=0 LD_PRELOAD=$meddle MEDDLE=$deeds "$@"
}

# The file is there before (old) or not (none); afterwards old, new or none, whole, and no crumbs.
meddle_with() { # STATUS BEFORE AFTER DEEDS
	rm -f "$folder"/.t* "$folder"/*
	[ "$2" = none ] || cp "$work/old" "$folder/chart.svg"
	(meddled "$4" "$tambour" chart "$pattern" -o "$folder/chart.svg"; exit $?) \
		>"$work/out" 2>"$work/log"
	got=$?
	[ "$got" -eq "$1" ]
	say $? "$4 ($2 before): status $got, not $1"
	case $3 in
	none) [ ! -e "$folder/chart.svg" ] ;;
	new) cmp -s "$folder/chart.svg" "$work/new.svg" ;;
	old) cmp -s "$folder/chart.svg" "$work/old" ;;
	esac
	say $? "$4 ($2 before): the file is not $3"
}
clean() {
	! has_crumbs "$folder"
	say $? 'a file of another name is left'
}

if [ ! -e "$meddle" ]; then
	say 1 "$meddle is not built"
fi
for before in none old; do
	# The disk is full, breaks, or takes half of what it is given.
	for deed in write:1:full write:1:broken fsync:1:broken; do
		meddle_with 3 $before $before $deed
		grep -q '^tambour: cannot write.*chart.svg: ' "$work/log"
		say $? "$deed is not told"
		clean
		# The same on a disk that knows no files without names.
		meddle_with 3 $before $before "open:1:unknown $deed"
		clean
	done
	meddle_with 0 $before new write:1:half
	clean
	meddle_with 0 $before new open:1:unknown
	clean
	meddle_with 0 $before new linkat:0:refused
	clean
	meddle_with 3 $before $before 'open:1:unknown rename:0:broken'
	clean
	# Pulled out: half written, before it is on the disk, before it has its name.
	for deed in write:1:kill fsync:1:kill linkat:1:kill; do
		meddle_with 137 $before $before $deed
		clean
	done
	# Asked to end while it writes: the file is brought to its name first.
	for deed in write:1:term write:1:int fsync:1:term; do
		case $deed in
		*term) status=143 ;;
		*) status=130 ;;
		esac
		meddle_with $status $before new $deed
		clean
		meddle_with $status $before new "open:1:unknown $deed"
		clean
	done
done
meddle_with 3 old old rename:0:broken
clean
# Pulled out in the one instant when the new file has a name of its own: that name stays.
meddle_with 137 old old rename:1:kill

# At any moment.
rm -f "$folder"/.t* "$folder"/*
cp "$work/old" "$folder/chart.svg"
whole=0
for signal in KILL TERM INT; do
	for moment in 02 05 08 11 14; do
		timeout -s $signal 0.$moment "$tambour" chart "$pattern" -o "$folder/chart.svg" \
			>"$work/out" 2>"$work/log"
		is_whole "$folder/chart.svg" || whole=1
	done
done
say $whole 'killed at some moment, a file is not whole'
clean

# Two at once, to one file.
"$tambour" chart examples/ripple-blanket.txt -o "$work/other.svg" 2>"$work/log"
for round in 1 2 3 4; do
	for each in 1 2; do
		"$tambour" chart "$pattern" -o "$folder/chart.svg" 2>"$work/log" &
		first=$!
		"$tambour" chart examples/ripple-blanket.txt -o "$folder/chart.svg" 2>"$work/log2" &
		wait $first && wait $!
		say $? 'two runs at once: one failed'
		cmp -s "$folder/chart.svg" "$work/new.svg" || cmp -s "$folder/chart.svg" "$work/other.svg"
		say $? 'two runs at once: the file is neither of the two'
	done
	rm "$folder/chart.svg"
done
clean
