/* English names of verdicts. */
#include "gradin/acoustics/uncertainty.h"

const char *gradin_verdict_name(gradin_verdict verdict) {
    static const char *const name[GRADIN_N_VERDICT] = {"", "within", "too near to tell", "over"};
    return (int)verdict >= 0 && verdict < GRADIN_N_VERDICT ? name[verdict] : "";
}
