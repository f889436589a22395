/* The cautions printed with every summary. */
#include "table/shared/cautions.h"

const char *const table_caution[TABLE_N_CAUTION] = {
    "Predicted sound levels are no measurement: measure in the room before relying on them.",
    "Rails, guards, egress, loads and moving machinery: local codes and licensed practice decide.",
    "Nobody stands under or on moving machinery, whatever a layout shows.",
};
