#include "command.h"

#include <stdarg.h>
#include <stdio.h>

bool tb_complain(const char *format, ...)
{
	va_list arguments;
	va_start(arguments, format);
	g_autofree char *text = g_strdup_vprintf(format, arguments);
	va_end(arguments);
	fprintf(stderr, "tambour: %s\n", text);
	return false;
}
