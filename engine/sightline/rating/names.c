/* English names of the results' enumerations. */
#include "gradin/sightline.h"

const char *gradin_c_case_name(gradin_c_case c_case) {
    static const char *const name[GRADIN_N_C_CASE] = {"none", "row in front", "two rows ahead",
                                                      "between heads", "across an aisle"};
    return c_case < GRADIN_N_C_CASE ? name[c_case] : "none";
}

const char *gradin_reason_name(gradin_reason reason) {
    static const char *const name[GRADIN_N_REASON] = {
        "none",     "visible fraction", "clear view", "C-value",
        "distance", "off-axis angle",   "down angle", "head turn"};
    return reason < GRADIN_N_REASON ? name[reason] : "none";
}

const char *gradin_rake_form_name(gradin_rake_form form) {
    return form == GRADIN_RAKE_CONSTANT_RISER ? "constant riser" : "constant C";
}
