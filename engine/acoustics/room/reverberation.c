/* Measured reverberation times as input.
 *
 * Absorption coefficients come from tables, and a hall as built rings otherwise. With the times T
 * of one layout measured, all that is stated of its surfaces (seats, shades and glass included) is
 * multiplied by one factor per band, at most up to a coefficient of 1, so that the field computed
 * for that layout, its shades and its seats as they were then rings for T. What stands open
 * swallows everything whatever the factor. The factor is found by bisection: T falls as it grows.
 * In a room without divide the equation is Eyring's, (1) T = 55.26 V/(c (-S ln(1 - mean alpha) + 4
 * m V)), as ISO 354:2003 and EN 12354-6:2003 use it with air; absorption.c has its source,
 * patches/decay.c the factor for radiosity.
 *
 * A time given for an octave holds at its middle third, whose factor its other thirds share (63 Hz
 * goes with 125 Hz). Limits: one factor for all surfaces, though one of them may be wrong alone; a
 * time that air alone would not allow, or that needs more than all that the surfaces can swallow,
 * is refused. */
#include "acoustics/room/room.h"

#include <stdio.h>

static const double least_factor = 1e-3, most_factor = 1e3;

enum { N_HALVING = 50 };

static bool is_with_next(const gradin_reverberation *r, int band) {
    bool is_octave_end = band % 3 == 2 && band != 2;
    return band + 1 < GRADIN_N_BAND && !is_octave_end &&
           r->measured_s[band + 1] == r->measured_s[band];
}

int gradin_reverberation_run(const gradin_reverberation *measured, int first) {
    int n = 1;
    while (is_with_next(measured, first + n - 1)) n++;
    return n;
}

const double *gradin_reverberation_seating(const gradin_reverberation *measured) {
    return isnan(measured->seating[0]) ? NULL : measured->seating;
}

gradin_status gradin_reverberation_refuse(const gradin_model *model, int band, const char *why,
                                          gradin_error *error) {
    const gradin_reverberation *r = model->reverberation;
    char time_s[24];
    gradin_format_fixed(time_s, sizeof time_s, r->measured_s[band], 2);
    return gradin_error_add(error, GRADIN_BAD_INPUT, r->at, "measured_s: %s s at %d Hz is %s",
                            time_s, gradin_band_nominal_hz(band), why);
}

/* The times with all factors alike, time_s[GRADIN_N_BAND]. */
static gradin_status times_at(const gradin_model *model, double factor, double *time_s,
                              gradin_error *error) {
    gradin_scaling scaling = {.seating = gradin_reverberation_seating(model->reverberation)};
    gradin_room_field field = {.main_side = 0};
    for (int b = 0; b < GRADIN_N_BAND; b++) scaling.factor[b] = factor;
    gradin_status status = gradin_scaled_field_make(
        model, (gradin_shade_state)model->reverberation->shades, &scaling, &field, error);
    for (int b = 0; b < GRADIN_N_BAND; b++) time_s[b] = field.reverberation_s[field.main_side][b];
    return status;
}

static gradin_status check_limits(const gradin_model *model, gradin_error *error) {
    double longest_s[GRADIN_N_BAND], shortest_s[GRADIN_N_BAND];
    const double *measured_s = model->reverberation->measured_s;
    gradin_status status = times_at(model, least_factor, longest_s, error);
    if (status == GRADIN_OK) status = times_at(model, most_factor, shortest_s, error);
    for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++) {
        char why[128], limit_s[24];
        bool is_long = measured_s[b] > longest_s[b];
        if (!is_long && measured_s[b] >= shortest_s[b]) continue;
        gradin_format_fixed(limit_s, sizeof limit_s, is_long ? longest_s[b] : shortest_s[b], 2);
        snprintf(why, sizeof why,
                 is_long ? "longer than the %s s that air alone leaves this room"
                         : "shorter than the %s s of this room with every surface absorbing",
                 limit_s);
        status = gradin_reverberation_refuse(model, b, why, error);
    }
    return status;
}

static gradin_status halve(const gradin_model *model, gradin_scaling *scaling,
                           gradin_error *error) {
    double low[GRADIN_N_BAND], high[GRADIN_N_BAND];
    gradin_room_field field;
    gradin_status status = GRADIN_OK;
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        low[b] = log(least_factor);
        high[b] = log(most_factor);
    }
    for (int i = 0; status == GRADIN_OK && i < N_HALVING; i++) {
        for (int b = 0; b < GRADIN_N_BAND; b++) scaling->factor[b] = exp(0.5 * (low[b] + high[b]));
        status = gradin_scaled_field_make(model, (gradin_shade_state)model->reverberation->shades,
                                          scaling, &field, error);
        for (int b = 0; status == GRADIN_OK && b < GRADIN_N_BAND; b++) {
            double time_s = field.reverberation_s[field.main_side][b];
            bool is_long = time_s > model->reverberation->measured_s[b];
            *(is_long ? &low[b] : &high[b]) = log(scaling->factor[b]);
        }
    }
    return status;
}

gradin_status gradin_reverberation_factors(const gradin_model *model, double *factor,
                                           gradin_error *error) {
    const gradin_reverberation *measured = model->reverberation;
    for (int b = 0; b < GRADIN_N_BAND; b++) factor[b] = 1.0;
    if (!measured) return GRADIN_OK;
    gradin_scaling scaling = {.seating = gradin_reverberation_seating(measured)};
    gradin_status status = check_limits(model, error);
    if (status == GRADIN_OK) status = halve(model, &scaling, error);
    if (status != GRADIN_OK) return status;
    for (int first = 0, n; first < GRADIN_N_BAND; first += n) {
        n = gradin_reverberation_run(measured, first);
        for (int b = first; b < first + n; b++) factor[b] = scaling.factor[first + n / 2];
    }
    return GRADIN_OK;
}

gradin_status gradin_room_field_make(const gradin_model *model, gradin_shade_state state,
                                     gradin_room_field *field, gradin_error *error) {
    gradin_scaling scaling = {.seating = NULL};
    gradin_status status = gradin_reverberation_factors(model, scaling.factor, error);
    return status == GRADIN_OK ? gradin_scaled_field_make(model, state, &scaling, field, error)
                               : status;
}
