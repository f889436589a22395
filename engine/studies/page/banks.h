/* studies/page/banks.h: blocks of seats and the lines through their middles. */
#ifndef GRADIN_STUDIES_BANKS_H
#define GRADIN_STUDIES_BANKS_H

#include "gradin/studies/compare.h"
#include "gradin/studies/cut.h"

typedef struct page_banks {
    const gradin_model *model;
    int *by_size;   /* [n] blocks with seats, those with most first */
    bool *is_shown; /* [model->n_block] by a section so far */
    int *n_row;     /* [model->n_block] */
    int n;
} page_banks;

/* sums [model->n_block]. False without memory. */
bool page_banks_find(gradin_arena *arena, const gradin_model *model, const gradin_seat_sums *sums,
                     page_banks *banks);
/* The line along the facing of a block; false when its seats face no common way. */
bool page_bank_line(const page_banks *banks, int block, gradin_cut_options *line);
/* Marks each block that the cut meets squarely in most of its rows. */
void page_banks_mark(page_banks *banks, const gradin_cut *cut);

#endif
