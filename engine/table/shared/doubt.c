/* How well levels are known, in words, and which of them no measurement will find. */
#include "table/shared/doubt.h"

#include "gradin/acoustics/noise_rating.h"

double table_envelope_db(const gradin_uncertainty *uncertainty, double systematic_db) {
    double square = systematic_db * systematic_db;
    square -= uncertainty->source_db * uncertainty->source_db;
    square -= uncertainty->room_db * uncertainty->room_db;
    return sqrt(fmax(square, 0.0));
}

void table_put_doubt(table_text *out, const gradin_uncertainty *uncertainty, double systematic_db,
                     const char *about) {
    table_put(out, about ? "  standard uncertainty of a level +- " : "  uncertainty +- ");
    table_put_number(out, TABLE_DECIBEL, systematic_db);
    table_put(out, " dB (source ");
    table_put_number(out, TABLE_DECIBEL, uncertainty->source_db);
    table_put(out, ", envelope ");
    table_put_number(out, TABLE_DECIBEL, table_envelope_db(uncertainty, systematic_db));
    table_put(out, ", room ");
    table_put_number(out, TABLE_DECIBEL, uncertainty->room_db);
    table_put(out, about ? "); single events scatter by +- " : "), scatter +- ");
    table_put_number(out, TABLE_DECIBEL, uncertainty->scatter_db);
    table_print(out, " dB%s%s\n", about ? " " : "", about ? about : "");
}

void table_put_verdicts(table_text *out, const int n_verdict[GRADIN_N_VERDICT], int n_seat,
                        double confidence, const gradin_gaps *gaps) {
    table_put(out, ", ");
    table_put_number(out, TABLE_NOISE_CRITERION, 100.0 * confidence);
    table_print(out, " %% sure: %d of %d seats within, %d too near to tell, %d over\n",
                n_verdict[GRADIN_VERDICT_WITHIN], n_seat, n_verdict[GRADIN_VERDICT_NEAR],
                n_verdict[GRADIN_VERDICT_OVER]);
    if (!(gaps->adds_db > 0.0)) return;
    table_put(out, "  within: also with all that is not in these levels, up to + ");
    table_put_number(out, TABLE_DECIBEL, gaps->adds_db);
    table_put(out, " dB\n");
}

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
