/* Words for what makes an edge. */
#include "gradin/studies/fit.h"

const char *gradin_edge_name(gradin_edge_of of) {
    static const char *const name[GRADIN_N_EDGE_OF] = {"lift",     "stair",   "slab", "set piece",
                                                       "platform", "passage", "floor"};
    return (int)of >= 0 && of < GRADIN_N_EDGE_OF ? name[of] : "";
}

const char *gradin_fit_part_name(gradin_fit_part part) {
    static const char *const name[GRADIN_N_FIT_PART] = {[GRADIN_FIT_ROWS] = "rows",
                                                        [GRADIN_FIT_SPACING] = "spacing",
                                                        [GRADIN_FIT_WHEELCHAIRS] = "wheelchairs",
                                                        [GRADIN_FIT_SLOPES] = "slopes",
                                                        [GRADIN_FIT_EXITS] = "exits",
                                                        [GRADIN_FIT_WAYS] = "ways out",
                                                        [GRADIN_FIT_VOMITORIES] = "vomitories",
                                                        [GRADIN_FIT_LOADS] = "loads",
                                                        [GRADIN_FIT_ROUTES] = "routes"};
    return (int)part >= 0 && part < GRADIN_N_FIT_PART ? name[part] : "?";
}
