/* English names of what is seen. */
#include "gradin/studies/outlook.h"

const char *gradin_seen_name(gradin_seen seen) {
    static const char *const name[GRADIN_N_SEEN] = {"hidden", "partly", "seen"};
    return (int)seen >= 0 && seen < GRADIN_N_SEEN ? name[seen] : "unknown";
}
