/* Words of a changeover, the same in every output. */
#include "table/changeover/moves.h"

const char *const table_move_caution[TABLE_N_MOVE_CAUTION] = {
    "Nobody stands under or on moving machinery; the area is cleared and watched before each move.",
    "Trained operators move the machines by the maker's procedure; that procedure always wins.",
    "A plan of times and orders: it controls nothing and checks no load and no rigging.",
    "Open edges need their guards before anybody else enters; the local code decides which.",
};

const char *table_move_kind(gradin_move_kind kind) {
    static const char *const name[] = {"strike", "machine", "set", "step"};
    return name[kind];
}

const char *table_move_cause(gradin_move_cause cause) {
    static const char *const name[] = {"at once", "after", "not beside", "crew or power",
                                       "after a break"};
    return name[cause];
}

const char *table_move_state(gradin_move_state state) {
    static const char *const name[] = {"planned", "running", "done"};
    return name[state];
}
