/* Levels below the hall's own noise are figures that no measurement will find. */
#include "table/shared/quiet.h"

#include "gradin/acoustics/noise_rating.h"

void table_put_quiet(table_text *out, double least_dba, double own_dba) {
    bool is_stated = !isnan(own_dba);
    double least_heard_dba = is_stated ? own_dba : GRADIN_QUIET_HALL_DBA;
    if (!(least_dba < least_heard_dba)) return;
    table_put(out, "  Levels below ");
    table_put_number(out, TABLE_DECIBEL, least_heard_dba);
    table_print(out, " dB(A) lie under %s: a meter reads mostly that.\n",
                is_stated ? "the hall's own noise as stated"
                          : "the noise of a very quiet hall (NC 15)");
    if (least_dba < 0.0) table_put(out, "  Those below 0 dB(A) nobody hears, even in silence.\n");
}
