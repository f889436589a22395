/* gradin/studies/page/page.h: what the one page about a layout shows beside its maps: sums by
 * block, and sections through the middle of its banks.
 *
 * Ownership and threads: Results live in the arena that is given and point into the assessment and
 * its model, which must outlive them; computations of different arenas may run in different
 * threads. */
#ifndef GRADIN_STUDIES_PAGE_H
#define GRADIN_STUDIES_PAGE_H

#include "gradin/studies/compare.h"
#include "gradin/studies/cut.h"

#ifdef __cplusplus
extern "C" {
#endif

enum { GRADIN_MAX_PAGE_CUT = 4 };

typedef struct gradin_layout_page {
    const gradin_assessment *assessment;
    gradin_seat_sums all, *block; /* [model->n_block] */
    gradin_cut *cut;              /* [n_cut] those of most seats first */
    int n_cut;
    int n_bank, n_bank_cut; /* blocks with seats; those that a section shows */
    int worst_cut;          /* index of the section through the worst seat, in the plane of its C;
                               -1: no room for it */
} gradin_layout_page;

/* A section runs along the facing of a block through the seat near its middle that meets most of
 * its rows. One that meets the rows of another block as squarely stands for that, too. */
GRADIN_API gradin_status gradin_layout_page_compute(gradin_arena *arena,
                                                    const gradin_assessment *assessment,
                                                    gradin_layout_page *page, gradin_error *error);

#ifdef __cplusplus
}
#endif

#endif
