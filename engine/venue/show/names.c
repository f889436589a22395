/* What a show may ask, by name, and a show that asks for nothing. */
#include "gradin/show.h"

const char *gradin_ask_name(gradin_ask ask) {
    static const char *const name[GRADIN_N_ASK] = {"form",
                                                   "seats to sell",
                                                   "wheelchair places",
                                                   "stage",
                                                   "clear seats",
                                                   "clear or good",
                                                   "farthest seat",
                                                   "events over the limit",
                                                   "words lost to traffic",
                                                   "changeover",
                                                   "crew hours",
                                                   "takings"};
    return ask < GRADIN_N_ASK ? name[ask] : "none";
}

bool gradin_ask_wants_more(gradin_ask ask) {
    return ask <= GRADIN_ASK_GOOD || ask == GRADIN_ASK_TAKINGS;
}

gradin_show gradin_show_defaults(void) {
    return (gradin_show){.name = NULL,
                         .distance_m = INFINITY,
                         .sold_to = GRADIN_RATING_FAIR,
                         .limit_dba = NAN,
                         .events = NAN,
                         .words_lost_a_show_s = NAN,
                         .percentile = 90.0,
                         .voice = -1,
                         .shades = -1,
                         .confidence = 0.84};
}
