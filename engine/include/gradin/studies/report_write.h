/* gradin/studies/report_write.h: one document about one or more layouts, as a single HTML file that
 * asks nothing of a network: figures, plans, the list of seats, checks, limits and cautions.
 *
 * Ownership and threads: The text lives in the arena that is given; any number of threads may write
 * one report, each with an arena of its own. */
#ifndef GRADIN_REPORT_WRITE_H
#define GRADIN_REPORT_WRITE_H

#include "gradin/studies/choose.h"
#include "gradin/studies/compare.h"
#include "gradin/studies/fit.h"
#include "gradin/studies/page/passing.h"

#ifdef __cplusplus
extern "C" {
#endif

/* The view from a seat as a PNG, and why it is there. */
typedef struct gradin_report_image {
    int seat;
    const char *title;
    const unsigned char *png;
    size_t size;
} gradin_report_image;

/* Required: n and assessment. */
typedef struct gradin_report {
    int n;                                      /* 1..GRADIN_MAX_COMPARED layouts */
    const gradin_assessment *const *assessment; /* [n] */
    const gradin_fit *const *fit;               /* [n] rough checks; NULL, or an entry: not made */
    const gradin_comparison *comparison;        /* NULL: none, as for one layout */
    const gradin_report_image *const *image;    /* [n][n_image] views; NULL: none */
    const int *n_image;                         /* [n] */
    const gradin_passing *passing;              /* [n] level against time; NULL: none */
    const gradin_choice *choice;                /* of a layout for a show; NULL: none */
} gradin_report;

/* HTML as *text[*size]. GRADIN_BAD_USE for a report that is not complete. */
GRADIN_API gradin_status gradin_report_html(gradin_arena *arena, const gradin_report *report,
                                            char **text, size_t *size, gradin_error *error);

/* What it holds as JSON (reference/report-schema.json), in short. */
GRADIN_API gradin_status gradin_report_json(gradin_arena *arena, const gradin_report *report,
                                            char **text, size_t *size, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
