# The table and the aims, from lines of
#     WHAT PIECE-STITCHES PROGRAM user both middle KiB status bytes
#     each WHAT instructions
# "both" is user and system time together, which the kernel counts; it only samples how they part,
# so that user time by itself is good where there is much of it.

function ratio(a, b) {
	return b > 0 ? sprintf("%.2f", a / b) : "-"
}

function get(name, what, piece, program) {
	return data[name, what, piece, program]
}

function add_aim(text, value, most, unit) {
	if (value == "" || value + 0 == 0)
		return
	aims++
	aim_text[aims] = text
	aim_value[aims] = sprintf("%.*f%s", value < 10 ? 2 : value < 100 ? 1 : 0, value, unit)
	aim_most[aims] = most unit
	aim_met[aims] = value <= most ? "met" : "short"
}

# How many times as much the larger piece takes; how the floor grows is said beside it.
function add_growth(what, few, many, name, called,   floor) {
	if (get(name, what, "plain-" many, "tambour") == "")
		return
	floor = get(name, what, "plain-" few, "floor")
	add_aim(what ", " few " to " many ": " called \
		(floor > 0 ? sprintf(" (floor %.0fx)", get(name, what, "plain-" many, "floor") / floor) : ""), \
		get(name, what, "plain-" many, "tambour") / get(name, what, "plain-" few, "tambour"), 110, "x")
}

function add_growths(what) {
	add_growth(what, 1000, 100000, "both", "time")
	add_growth(what, 1000, 100000, "kib", "memory")
	add_growth(what, 10000, 1000000, "both", "time")
	add_growth(what, 10000, 1000000, "kib", "memory")
}

function over(name, what, piece) {
	return get(name, what, piece, "floor") > 0 ? \
		get(name, what, piece, "tambour") / get(name, what, piece, "floor") : 0
}

$1 == "each" {
	each[$2] = $3
	next
}

$8 != 0 {
	failed[++failures] = $3 " ended with status " $8 ($8 == 124 ? " (it took too long)" : "") \
		": " $1 " of " $2
	if ($3 != "tambour")
		next
}

{
	data["user", $1, $2, $3] = $4
	data["both", $1, $2, $3] = $5
	data["middle", $1, $2, $3] = $6
	data["kib", $1, $2, $3] = $7
	data["bytes", $1, $2, $3] = $9
	if ($3 == "tambour" && $1 != "start")
		row[++rows] = $1 " " $2
}

function print_row(what, piece,   part, line, stitches, ours) {
	split(piece, part, "-")
	stitches = part[2]
	ours = get("both", what, piece, "tambour")
	if (form == "markdown")
		line = sprintf("| %s | %s | %d |", what, part[1], stitches)
	else
		line = sprintf("%-5s %-6s %8d %9.1f %8.1f", what, part[1], stitches, ours * 1000, \
			get("kib", what, piece, "tambour") / 1024)
	line = line sprintf(form == "markdown" ? " %s | %s | %s | %s | %s | %s |" : \
		" %8s %8s %8s %8s %8s %8s", \
		ratio(ours, get("both", what, piece, "floor")), \
		ratio(ours, get("both", what, piece, "neato")), \
		ratio(get("kib", what, piece, "tambour"), get("kib", what, piece, "floor")), \
		ratio(get("kib", what, piece, "tambour"), get("kib", what, piece, "neato")), \
		what == "check" ? "-" : sprintf("%.1f", get("bytes", what, piece, "tambour") / stitches), \
		what == "check" ? "-" : sprintf("%.1f", get("bytes", what, piece, "floor") / stitches))
	print line
}

function print_table(   i, part) {
	if (form == "markdown") {
		print "| what | piece | stitches | time: of floor | of neato | memory: of floor | of neato | bytes a stitch | floor's |"
		print "|---|---|--:|--:|--:|--:|--:|--:|--:|"
	} else {
		printf "%-5s %-6s %8s %9s %8s %17s %17s %17s\n", "", "", "", "time", "memory", \
			"time, times", "memory, times", "bytes a stitch"
		printf "%-5s %-6s %8s %9s %8s %8s %8s %8s %8s %8s %8s\n", "what", "piece", "stitches", "ms", \
			"MiB", "floor", "neato", "floor", "neato", "ours", "floor"
	}
	for (i = 1; i <= rows; i++) {
		split(row[i], part, " ")
		print_row(part[1], part[2])
	}
}

function print_instructions(name, ours, floor) {
	printf form == "markdown" ? "| %s | %.0f | %s | %s |\n" : "%-36s %10.0f %10s %8s\n", name, ours, \
		(floor > 0 ? sprintf("%.0f", floor) : "-"), ratio(ours, floor)
}

function print_each() {
	if (form == "markdown") {
		print "\n| instructions a stitch | ours | floor | of floor |"
		print "|---|--:|--:|--:|"
	} else {
		printf "\n%-36s %10s %10s %8s\n", "instructions a stitch", "ours", "floor", "times"
	}
	print_instructions("reading and checking", each["check"])
	print_instructions("layout", each["layout"] - each["check"])
	print_instructions("drawing, before any output", each["drawing"] - each["layout"])
	print_instructions("whole, to SVG, symbols placed", each["svg-placed"], each["floor-svg-placed"])
	print_instructions("whole, to SVG, rows stroked", each["svg-rows"], each["floor-svg-rows"])
	print_instructions("whole, to PDF", each["pdf"], each["floor-pdf"])
	print_instructions("cold start, in all; floor: a word", each["start"], each["floor-start"])
}

function print_aims(   i) {
	if (form == "markdown") {
		print "\n| aim | most | measured | |"
		print "|---|--:|--:|---|"
	} else {
		printf "\n%-52s %10s %10s\n", "aim", "most", "measured"
	}
	for (i = 1; i <= aims; i++)
		printf form == "markdown" ? "| %s | %s | %s | %s |\n" : "%-52s %10s %10s  %s\n", \
			aim_text[i], aim_most[i], aim_value[i], aim_met[i]
}

function gather_aims(   i, part, size, small) {
	add_aim("SVG of 100000: user time, of the floor's", over("user", "svg", "plain-100000"), 1.5, "x")
	add_aim("PDF of 100000: user time, of the floor's", over("user", "pdf", "plain-100000"), 1.5, "x")
	split("check svg pdf png", part, " ")
	for (i = 1; i <= 4; i++)
		add_growths(part[i])
	for (i = 1; i <= rows; i++) {
		split(row[i], part, " ")
		split(part[2], size, "-")
		small = size[2] <= 20000
		if (part[1] == "svg" && size[1] == "plain")
			add_aim("SVG of " size[2] " (plain): bytes a stitch", \
				get("bytes", "svg", part[2], "tambour") / size[2], small ? 75 : 130, "")
		if (part[1] == "pdf" && size[1] == "plain")
			add_aim("PDF of " size[2] " (plain): bytes a stitch", \
				get("bytes", "pdf", part[2], "tambour") / size[2], 32, "")
	}
	add_aim("check: instructions a stitch", each["check"], 300, "")
	if (get("kib", "check", "plain-1000000", "tambour") != "")
		add_aim("check, 100000 to 1000000: bytes of memory a stitch", \
			(get("kib", "check", "plain-1000000", "tambour") - \
			get("kib", "check", "plain-100000", "tambour")) * 1024 / 900000, 120, "")
	add_aim("cold start: least time, of a word by Pango", over("both", "start", "least-3"), 1.2, "x")
	add_aim("cold start: middle time, of a word by Pango", over("middle", "start", "least-3"), 1.2, "x")
	if (each["floor-start"] > 0)
		add_aim("cold start: instructions, of a word by Pango", \
			each["start"] / each["floor-start"], 1.2, "x")
}

END {
	print_table()
	print_each()
	gather_aims()
	print_aims()
	for (i = 1; i <= failures; i++)
		print failed[i]
}
