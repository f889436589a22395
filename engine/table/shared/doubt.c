/* How well levels are known, in words. */
#include "table/shared/doubt.h"

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
