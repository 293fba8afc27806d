# What the tests say; to be read by run. Needs $work; counts in $passed and $failed.

say() { # STATUS WHAT
	if [ "$1" -eq 0 ]; then
		passed=$((passed + 1))
	else
		failed=$((failed + 1))
		echo "FAIL $2"
		[ -s "$work/log" ] && head -n 20 "$work/log" | cat -v | sed 's/^/     /'
	fi
}

expect() { # STATUS WHAT COMMAND...
	wanted=$1
	what=$2
	shift 2
	"$@" >"$work/text" 2>"$work/log"
	got=$?
	[ "$got" -eq "$wanted" ]
	say $? "$what: status $got, not $wanted"
}

tells() { # WORDS: the last command did, on standard error
	grep -qF -e "$1" "$work/log"
	say $? "$what: it does not say '$1'"
}

keeps_empty() { # FOLDER
	[ -z "$(ls -A "$1")" ]
	say $? "$what: something was written"
}
