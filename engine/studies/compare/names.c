/* Words for the figures that seats are compared by. */
#include "gradin/studies/compare.h"

const char *gradin_figure_name(gradin_figure figure) {
    static const char *const name[GRADIN_N_FIGURE] = {"focus seen", "clear view",     "C-value",
                                                      "distance",   "off-axis angle", "look down",
                                                      "head turn",  "overflight"};
    return (int)figure >= 0 && figure < GRADIN_N_FIGURE ? name[figure] : "";
}
