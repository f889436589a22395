/* render/maps/legend.h: what the reader needs beside the plan. */
#ifndef GRADIN_RENDER_LEGEND_H
#define GRADIN_RENDER_LEGEND_H

#include "render/maps/quantity.h"
#include "render/plan/plan.h"

#define LEGEND_SPLIT 880.0 /* scale and classes to the left, symbols to the right */

/* scale_bar.c: length bar and north arrow, below the plan. */
double legend_draw_length(canvas *page, double left, double top, double unit_per_m,
                          bool feet); /* the bar alone; its width */
void legend_draw_north(canvas *page, double x, double top);
void legend_draw_scale_strip(canvas *page, const view *v, const gradin_model *model);
/* legend.c: colour bar or class swatches, class boundaries, counts, spread. */
void legend_draw_scale(canvas *page, const view *v, const quantity *q, int sheet);
/* symbols.c: only the symbols that this map shows. */
void legend_draw_symbols(canvas *page, const view *v, const quantity *q, int sheet);

/* legend_limits.c: a figure with its limits, or why the rating does not count it: then false. */
bool legend_limit(const quantity *q, gradin_reason reason, char *text, size_t size);

#endif
