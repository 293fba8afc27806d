/* Pages to PDF, for the commands that print. */
#include "command.h"

GByteArray *tb_make_pdf(tb_job *job, const tb_pages *pages, GError **error)
{
	tb_output_options how = {.created = tb_output_time()};
	tb_progress_step(job->progress, "drawing");
	g_autoptr(tb_document) document = tb_pages_draw(pages);
	return tb_output_render_document(document, &how, error);
}
