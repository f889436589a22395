/* Cautions of every summary. */
#include "table/cautions.h"

#include <stddef.h>

const char *const table_cautions[] = {
    "Predictions from a model, not measurements; walk the seats and measure before you sell or "
    "build.",
    "Rails, guards, egress and loads: the local code and a licensed professional decide. A lower "
    "rail "
    "is no sightline fix.",
    "Moving machinery: nobody under or on it; trained operators and the maker's procedure only.",
    NULL};
