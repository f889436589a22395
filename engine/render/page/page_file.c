/* Pages as files: one each, or all in one PDF. */
#include "base/use.h"
#include "render/draw/encode.h"
#include "render/page/parts.h"
#include "render/view/view_paint.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

int gradin_pages_count(const gradin_pages *pages) {
    return pages ? pages->n + (pages->comparison ? pages->n - 1 : 0) : 0;
}

/* Letters and figures of ASCII; all between two of them is one low line. */
static void plain_name(const char *from, char name[48]) {
    static const char kept[] = "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789";
    size_t n = 0;
    bool is_between = false;
    for (; *from != '\0' && n + 3 < 48; from++) {
        bool is_kept = strchr(kept, *from) != NULL;
        if (is_kept && is_between && n > 1) name[n++] = '_';
        if (is_kept && n == 0) name[n++] = '-';
        if (is_kept) name[n++] = *from;
        is_between = !is_kept;
    }
    name[n] = '\0';
}

char *gradin_page_stem(gradin_arena *arena, const gradin_pages *pages, int page) {
    char name[48];
    if (!arena || page < 0 || page >= gradin_pages_count(pages)) return NULL;
    if (page >= pages->n) return gradin_arena_print(arena, "pages-1-%d", page - pages->n + 2);
    plain_name(pages->layout[page].assessment->model->layout_name, name);
    return gradin_arena_print(arena, "page-%d%s", page + 1, name);
}

static void draw(board *b, const gradin_pages *pages, int page) {
    if (page < pages->n)
        board_draw_layout(b, &pages->layout[page]);
    else
        board_draw_pair(b, pages, page - pages->n);
}

static gradin_status check(const gradin_pages *pages, gradin_error *error) {
    bool is_whole = pages && pages->layout && pages->n >= 1 && pages->n <= GRADIN_MAX_COMPARED;
    for (int i = 0; is_whole && i < pages->n; i++) {
        const gradin_layout_page *p = &pages->layout[i];
        if (assessment_tables_complete(p->assessment, error) != GRADIN_OK) return GRADIN_BAD_USE;
        is_whole = p->all.n_seat > 0 && (p->assessment->model->n_block == 0 || p->block) &&
                   (p->n_cut == 0 || p->cut) && p->n_cut <= GRADIN_MAX_PAGE_CUT;
    }
    if (is_whole && pages->comparison) {
        if (comparison_complete(pages->comparison, error) != GRADIN_OK) return GRADIN_BAD_USE;
        is_whole = pages->comparison->n_layout == pages->n && pages->verdict;
        for (int i = 0; is_whole && i + 1 < pages->n; i++) is_whole = pages->verdict[i] != NULL;
    }
    for (int i = 0; is_whole && pages->view && i < pages->n; i++)
        if (!pages->n_view ||
            (pages->n_view[i] > 0 &&
             view_sheet_check(pages->view[i], pages->n_view[i], error) != GRADIN_OK))
            return GRADIN_BAD_USE;
    for (int i = 0; is_whole && i < pages->n_text; i++)
        is_whole = pages->text && pages->text[i].title && pages->text[i].text;
    if (is_whole) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL, "the pages are not whole");
}

/* The views of a layout, on a page after its own. */
static void draw_views(board *b, const gradin_pages *pages, int layout) {
    if (!pages->view || layout >= pages->n || pages->n_view[layout] < 1) return;
    canvas_turn(b->page);
    if (!view_sheet_draw(b->page, b->scratch, pages->view[layout], pages->n_view[layout]))
        b->failed = true;
}

/* Draws pages first..last - 1 on one canvas, and hands over what went wrong. */
static gradin_status draw_all(canvas *page, gradin_arena *scratch, const gradin_pages *pages,
                              int first, int last, bool is_whole, gradin_error *error) {
    board b = {.page = page, .scratch = scratch};
    for (int i = first; i < last; i++) {
        if (i > first) canvas_turn(page);
        draw(&b, pages, i);
        if (is_whole) draw_views(&b, pages, i);
    }
    if (is_whole && pages->n_text > 0) {
        if (canvas_use_mono(page, error) != GRADIN_OK) return GRADIN_IO_FAILED;
        board_draw_texts(&b, pages);
    }
    if (b.failed) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a page");
    return canvas_status(page, error);
}

static gradin_status render(gradin_arena *arena, const gradin_pages *pages, int first, int last,
                            bool is_whole, gradin_picture format, unsigned char **bytes,
                            size_t *size, gradin_error *error) {
    canvas page;
    const gradin_model *model = pages->layout[first < pages->n ? first : 0].assessment->model;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a page");
    gradin_status status = canvas_open_as(&page, scratch, format, A3_WIDTH, A3_HEIGHT, 1.0, error);
    if (status == GRADIN_OK) status = draw_all(&page, scratch, pages, first, last, is_whole, error);
    const picture_of of = {"Layouts on a page", model->layout_name, model->digest};
    status = picture_end(arena, scratch, &page, status, of, bytes, size, error);
    gradin_arena_destroy(scratch);
    return status;
}

gradin_status gradin_page_picture(gradin_arena *arena, const gradin_pages *pages, int page,
                                  gradin_picture format, unsigned char **bytes, size_t *size,
                                  gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || check(pages, error) != GRADIN_OK ||
        picture_check(format, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (page < 0 || page >= gradin_pages_count(pages))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "there is no page %d", page + 1);
    return render(arena, pages, page, page + 1, false, format, bytes, size, error);
}

gradin_status gradin_pages_pdf(gradin_arena *arena, const gradin_pages *pages,
                               unsigned char **bytes, size_t *size, gradin_error *error) {
    if (NEEDS(error, arena, bytes, size) != GRADIN_OK || check(pages, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    return render(arena, pages, 0, gradin_pages_count(pages), true, GRADIN_PICTURE_PDF, bytes, size,
                  error);
}
