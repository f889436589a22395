/* English names of the model's enumerations. */
#include "gradin/model.h"

const char *gradin_cause_name(gradin_cause cause) {
    static const char *const name[GRADIN_N_CAUSE] = {"heads", "rails", "structure", "arch"};
    return cause < GRADIN_N_CAUSE ? name[cause] : "none";
}
