/* The cue sheets of all gangs as one PDF. */
#include "base/use.h"
#include "gradin/render.h"
#include "render/charts/cues.h"
#include "render/draw/pages.h"
#include "studies/shared/complete.h"

#include <stdio.h>

static gradin_status draw_all(pages *p, gradin_arena *scratch, const gradin_changeover *c,
                              gradin_error *error) {
    cue_book book;
    if (!cues_bind(&book, scratch, c, &p->canvas))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the sheets");
    for (int i = 0; i < book.n_sheet; i++) {
        cues_draw(&book, &book.sheet[i], &p->canvas);
        pages_turn(p);
    }
    return pages_end(p, error);
}

gradin_status gradin_changeover_pdf(gradin_arena *arena, const gradin_changeover *changeover,
                                    unsigned char **bytes, size_t *size, gradin_error *error) {
    char title[TEXT_CHARS];
    pages p;
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK ||
        changeover_complete(changeover, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for sheets");
    snprintf(title, sizeof title, "Cue sheets: changeover from %.150s to %.150s",
             changeover->from->layout_name, changeover->to->layout_name);
    gradin_status status = pages_open(&p, arena, title, error);
    if (status == GRADIN_OK) status = draw_all(&p, scratch, changeover, error);
    pages_close(&p);
    gradin_arena_destroy(scratch);
    *bytes = status == GRADIN_OK ? p.bytes : NULL;
    *size = status == GRADIN_OK ? p.size : 0;
    return status;
}
