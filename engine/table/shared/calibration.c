/* A measurement at the site beside the prediction. */
#include "table/shared/calibration.h"
#include "table/shared/json_spread.h"

/* At the middle third of each octave, 125 Hz to 4 kHz. */
static void put_row(table_text *out, const char *what, const double *band_db) {
    table_print(out, "    %-24s", what);
    for (int b = 4; b < GRADIN_N_BAND; b += 3) table_put_right(out, TABLE_DECIBEL, band_db[b], 8);
    table_put(out, "\n");
}

void table_put_calibration(table_text *out, const gradin_calibration *c,
                           const gradin_spread *predicted, const gradin_spread *corrected) {
    double corrected_db[GRADIN_N_BAND];
    if (!c->is_there) return;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        corrected_db[b] = c->predicted_db[b] + c->correction_db[b];
    table_print(out, "  %-26s", "D2m,nT at the site, dB, Hz");
    for (int b = 4; b < GRADIN_N_BAND; b += 3) table_print(out, "%8d", gradin_band_nominal_hz(b));
    table_put(out, "\n");
    put_row(out, "predicted", c->predicted_db);
    put_row(out, "  known to +-", c->predicted_unsure_db);
    put_row(out, "measured", c->measured_db);
    put_row(out, "corrected", corrected_db);
    put_row(out, "  known to +-", c->corrected_unsure_db);
    table_print(out, "  D2m,nT,w %d dB predicted, %d dB corrected; median seat ", c->predicted_w_db,
                c->corrected_w_db);
    table_put_number(out, TABLE_DECIBEL, predicted->median);
    table_put(out, " dB predicted, ");
    table_put_number(out, TABLE_DECIBEL, corrected->median);
    table_put(out, " dB corrected\n");
}

void table_json_calibration(table_json *json, json_t *parent, const gradin_calibration *c,
                            const gradin_spread *predicted) {
    if (!c->is_there) {
        table_json_null(json, parent, "calibration");
        return;
    }
    json_t *object = table_json_object(json, parent, "calibration");
    const struct {
        const char *key;
        const double *band_db;
    } row[] = {{"d2m_nt_predicted_db", c->predicted_db},
               {"d2m_nt_measured_db", c->measured_db},
               {"correction_db", c->correction_db},
               {"predicted_uncertainty_db", c->predicted_unsure_db},
               {"corrected_uncertainty_db", c->corrected_unsure_db}};
    for (size_t i = 0; i < sizeof row / sizeof row[0]; i++)
        table_json_numbers(json, object, row[i].key, TABLE_DECIBEL, row[i].band_db, GRADIN_N_BAND,
                           1.0);
    table_json_integer(json, object, "d2m_nt_w_predicted_db", c->predicted_w_db);
    table_json_integer(json, object, "d2m_nt_w_corrected_db", c->corrected_w_db);
    table_json_spread(json, object, "lamax_predicted_dba", TABLE_DECIBEL, predicted, 1.0);
}
