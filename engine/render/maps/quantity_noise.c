/* Rows of noise that assessments and seasons share. The ends of the scales are conventions of our
 * own, the same for every layout, venue and season. */
#include "render/maps/quantity.h"

#include <stdio.h>

quantity quantity_level(const gradin_model *model, doubt known) {
    return (quantity){.model = model,
                      .unit = "dB(A)",
                      .low = 20.0,
                      .high = 80.0,
                      .shown_per_si = 1.0,
                      .tick_shown = 10.0,
                      .decimals = 1,
                      .opens_low = true,
                      .opens_high = true,
                      .criterion = NAN,
                      .is_noise = true,
                      .doubt = known};
}

void quantity_level_limit(quantity *q, double limit_dba, const char *none_stated) {
    char number[16];
    q->criterion = limit_dba;
    if (isnan(limit_dba)) {
        snprintf(q->note, sizeof q->note, "%s", none_stated);
        return;
    }
    quantity_limit_text(q, limit_dba, number);
    q->criterion_head = "one event beside the limit of its highest level";
    snprintf(q->within, sizeof q->within, "within the limit of %s %s", number, q->unit);
    snprintf(q->over, sizeof q->over, "over the limit of %s %s", number, q->unit);
}

static void band_limit(quantity *q, double limit_db) {
    char number[16];
    q->criterion = limit_db;
    if (isnan(limit_db)) return;
    quantity_limit_text(q, limit_db, number);
    q->criterion_head = "one event beside what the hall's NC allows in this octave";
    q->mark_text = "over the hall's NC (slash)";
    snprintf(q->within, sizeof q->within, "within %s %s", number, q->unit);
    snprintf(q->over, sizeof q->over, "over %s %s", number, q->unit);
}

quantity quantity_band_level(const gradin_model *model, const gradin_band_level *band,
                             doubt known) {
    quantity q = quantity_level(model, known);
    q.unit = "dB";
    q.low = 0.0;
    q.high = 90.0;
    q.value = band->level_db;
    q.verdict = band->verdict;
    q.spread = &band->spread;
    snprintf(q.title, sizeof q.title, "%s %d Hz at the moment of the maximum, shades as set",
             band->is_octave ? "Octave" : "Third octave", band->nominal_hz);
    band_limit(&q, band->limit_db);
    char own[16];
    gradin_format_fixed(own, sizeof own, band->uncertainty_db, 1);
    snprintf(q.note, sizeof q.note,
             "Not weighted. One event's level in this band is known to ±%s dB (standard).", own);
    return q;
}

quantity quantity_shade_gain(const gradin_model *model, doubt known) {
    return (quantity){
        .model = model,
        .unit = "dB",
        .low = -6.0,
        .high = 6.0,
        .shown_per_si = 1.0,
        .tick_shown = 2.0,
        .decimals = 1,
        .is_difference = true,
        .opens_low = true,
        .opens_high = true,
        .criterion = NAN,
        .note = "Above zero: louder with all shades open than with all shut. A difference of "
                "two predictions of one room is more certain than either level.",
        .shades = GRADIN_SHADES_OPEN,
        .is_noise = true,
        .doubt = known};
}
