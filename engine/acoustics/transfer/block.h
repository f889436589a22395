/* transfer/block.h: a block of seats of a transfer by element, from its two factors. */
#ifndef GRADIN_TRANSFER_BLOCK_H
#define GRADIN_TRANSFER_BLOCK_H

#include "acoustics/patches/emission.h"
#include "acoustics/transfer/transfer.h"

typedef struct gradin_block_scratch gradin_block_scratch;

/* For blocks of up to n_seat seats on up to n_thread threads. NULL when out of memory. */
gradin_block_scratch *gradin_block_scratch_alloc(gradin_arena *arena,
                                                 const gradin_transfer *transfer, int n_seat,
                                                 int n_thread);
/* Fills whole_1m2 of the solved states for n_seat seats from `from` on, which see
 * seen[n_seat][n_patch] of the patches. Of what is sent, the middle band of each group is read. The
 * same for any number of threads. */
void gradin_block_multiply(gradin_transfer *transfer, const gradin_patch_emission *sent, int from,
                           int n_seat, const double *seen, gradin_block_scratch *scratch);

#endif
