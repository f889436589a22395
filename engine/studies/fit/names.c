/* Words for what makes an edge. */
#include "gradin/studies/fit.h"

const char *gradin_edge_name(gradin_edge_of of) {
    static const char *const name[GRADIN_N_EDGE_OF] = {"lift",     "stair",   "slab", "set piece",
                                                       "platform", "passage", "floor"};
    return (int)of >= 0 && of < GRADIN_N_EDGE_OF ? name[of] : "";
}
