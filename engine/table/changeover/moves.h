/* table/changeover/moves.h: what the writers of a changeover share. */
#ifndef GRADIN_TABLE_MOVES_H
#define GRADIN_TABLE_MOVES_H

#include "gradin/table.h"
#include "table/shared/text.h"

enum { TABLE_N_MOVE_CAUTION = 4 };

/* Each at most 96 characters. */
extern const char *const table_move_caution[TABLE_N_MOVE_CAUTION];

const char *table_move_kind(gradin_move_kind kind);
const char *table_move_cause(gradin_move_cause cause);
/* moves_head.c: all above the list, and whether it fits. */
void table_put_changeover_head(table_text *out, const gradin_changeover *changeover);
void table_put_gap(table_text *out, const gradin_changeover *changeover);
const char *table_move_state(gradin_move_state state);

#endif
