/* Sums by block and sections through the banks of one layout. */
#include "gradin/studies/page/page.h"
#include "base/use.h"
#include "studies/compare/compare.h"
#include "studies/page/banks.h"
#include "studies/shared/complete.h"

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a page");
}

static gradin_status sum_blocks(gradin_arena *arena, const gradin_assessment *a,
                                gradin_layout_page *page) {
    int n_block = a->model->n_block;
    gradin_compared_layout sums = {.assessment = a};
    int *block_of = gradin_arena_alloc(arena, (size_t)n_block + 1, sizeof *block_of);
    if (!block_of) return GRADIN_NO_MEMORY;
    for (int k = 0; k < n_block; k++) block_of[k] = k;
    gradin_status status = compare_seat_sums(arena, a, block_of, n_block, &sums);
    page->all = sums.all;
    page->block = sums.block;
    return status;
}

static gradin_status cut_one(gradin_arena *arena, const gradin_assessment *a, page_banks *banks,
                             int block, gradin_layout_page *page, gradin_error *error) {
    gradin_cut_options how = {.seat = -1};
    gradin_cut *cut = &page->cut[page->n_cut];
    if (!page_bank_line(banks, block, &how)) return GRADIN_OK;
    gradin_status status = gradin_cut_compute(arena, a->model, &a->sight, &how, cut, error);
    if (status != GRADIN_OK) return status;
    page_banks_mark(banks, cut);
    page->n_cut++;
    return GRADIN_OK;
}

/* Where there is room, and something that it does not see. */
static gradin_status cut_worst(gradin_arena *arena, const gradin_assessment *a,
                               gradin_layout_page *page, gradin_error *error) {
    page->worst_cut = -1;
    if (page->n_cut == GRADIN_MAX_PAGE_CUT || a->n_worst == 0 ||
        a->sight.visible[a->worst_seat[0]] > 1.0 - GRADIN_TELLS_APART)
        return GRADIN_OK;
    const gradin_cut_options how = {.seat = a->worst_seat[0]};
    page->worst_cut = page->n_cut++;
    return gradin_cut_compute(arena, a->model, &a->sight, &how, &page->cut[page->worst_cut], error);
}

static gradin_status cut_banks(gradin_arena *arena, const gradin_assessment *a,
                               gradin_layout_page *page, gradin_error *error) {
    page_banks banks;
    page->cut = gradin_arena_alloc(arena, GRADIN_MAX_PAGE_CUT, sizeof *page->cut);
    if (!page->cut || !page_banks_find(arena, a->model, page->block, &banks))
        return no_memory(error);
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < banks.n && status == GRADIN_OK && page->n_cut < GRADIN_MAX_PAGE_CUT; i++)
        if (!banks.is_shown[banks.by_size[i]])
            status = cut_one(arena, a, &banks, banks.by_size[i], page, error);
    if (status == GRADIN_OK) status = cut_worst(arena, a, page, error);
    page->n_bank = banks.n;
    for (int i = 0; i < banks.n; i++) page->n_bank_cut += banks.is_shown[banks.by_size[i]];
    return status;
}

gradin_status gradin_layout_page_compute(gradin_arena *arena, const gradin_assessment *assessment,
                                         gradin_layout_page *page, gradin_error *error) {
    if (NEEDS(error, arena, page) != GRADIN_OK ||
        assessment_tables_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    *page = (gradin_layout_page){.assessment = assessment};
    if (sum_blocks(arena, assessment, page) != GRADIN_OK) return no_memory(error);
    return cut_banks(arena, assessment, page, error);
}
