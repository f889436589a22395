/* gradin/studies/page/picture.h: a layout on one A3 sheet that lies, and two layouts compared on
 * another: plans, sections, tables, limits and cautions. Takes result structs and computes nothing.
 *
 * Ownership and threads: Pictures are bytes in the arena that is given; pictures of different
 * arenas may be drawn in different threads. */
#ifndef GRADIN_PAGE_PICTURE_H
#define GRADIN_PAGE_PICTURE_H

#include "gradin/picture.h"
#include "gradin/studies/page/page.h"
#include "gradin/studies/view.h"

#ifdef __cplusplus
extern "C" {
#endif

/* Printed as it is, in letters of one width. */
typedef struct gradin_page_text {
    const char *title, *text;
} gradin_page_text;

/* Pages 0..n - 1 are of the layouts, those after them of the comparison's pairs. */
typedef struct gradin_pages {
    const gradin_layout_page *layout; /* [n] */
    int n;
    const gradin_comparison *comparison; /* of the same layouts in this order; NULL: none */
    const char *const *verdict;          /* [n - 1] what each pair comes to, in sentences */
    /* In the PDF of all alone: */
    const gradin_view_entry *const *view; /* [n][n_view] of each layout's model; NULL: none */
    const int *n_view;                    /* [n] at most GRADIN_MAX_VIEW each */
    const gradin_page_text *text;         /* [n_text] after all pages */
    int n_text;
} gradin_pages;

GRADIN_API int gradin_pages_count(const gradin_pages *pages);
/* "page-1-Thrust", "pages-1-2" of a pair: a file's name without its ending, in the arena;
 * NULL for a page that is not there. */
GRADIN_API char *gradin_page_stem(gradin_arena *arena, const gradin_pages *pages, int page);
/* One page. GRADIN_IO_FAILED without the DejaVu Sans font. */
GRADIN_API gradin_status gradin_page_picture(gradin_arena *arena, const gradin_pages *pages,
                                             int page, gradin_picture format, unsigned char **bytes,
                                             size_t *size, gradin_error *error);
/* All of them, one after the other in one PDF. */
GRADIN_API gradin_status gradin_pages_pdf(gradin_arena *arena, const gradin_pages *pages,
                                          unsigned char **bytes, size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
