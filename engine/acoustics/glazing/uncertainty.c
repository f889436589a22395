/* Standard uncertainty of a sound reduction index, by band.
 *
 * Measured: ISO 12999-1:2020 Table 2, situation A, what laboratories differ by (second-hand copy:
 * reference/iso-12999-1). Octaves: that of the middle third, since the thirds of one octave err
 * together. Predicted: root mean square of predicted less published, the published source being
 * left out when the four values of mounting.c were chosen (test_glazing_left_out.c), by octave 125
 * Hz to 4 kHz, of one pane, of a laminated one, of sealed units, and of two panes in frames;
 * beyond, the nearest octave. Three sources of laminated panes of 12 to 13 mm differ by more than
 * they are foretold wrong by: their standard deviation stands in its row, octave by octave. A
 * generic construction adds what like builds differ by, a band that a report lacks the error of the
 * prediction that stands in, or of a flat guess. Frames are as the sources word them. It is
 * systematic: the same at every seat and event. Limits: build-ups like those of the tables; the
 * published double windows differ by up to 16 dB in a band for nearly the same words, which is why
 * their row is large (reference/bies-2017). */
#include "acoustics/glazing/tmm.h"
#include "gradin/acoustics/glazing.h"

enum { N_OCTAVE_KNOWN = 6 };
enum { PANE, LAMINATED, UNIT, DOUBLE }; /* rows of left_out_db */

static const double laboratory_db[GRADIN_N_BAND] = {6.8, 4.6, 3.8, 3.0, 2.7, 2.4, 2.1,
                                                    1.8, 1.8, 1.8, 1.8, 1.8, 1.8, 1.8,
                                                    1.8, 1.8, 1.8, 1.9, 2.0, 2.4, 2.8};

static const double left_out_db[4][N_OCTAVE_KNOWN] = {
    {2.5, 2.0, 2.1, 2.5, 1.9, 2.3},
    {4.4, 3.5, 2.9, 4.6, 5.8, 3.5},
    {2.9, 2.0, 1.5, 2.3, 2.0, 4.5},
    {5.8, 6.2, 6.7, 5.2, 5.1, 5.6},
};

/* What published figures of like builds differ by: mean of reference/glazing/spread.csv, 3.4 dB, as
 * the standard deviation of one figure, sqrt(pi)/2 of it. */
static const double generic_db = 3.0;
/* R of a tight pane falls by 4 to 6 dB per octave where a flat guess stands (measured.c). */
static const double flat_db_per_octave = 5.0;

static bool has_layer(const gradin_buildup *buildup, gradin_layer_kind kind) {
    for (int i = 0; i < buildup->n_layer; i++)
        if (buildup->layer[i].kind == kind) return true;
    return false;
}

static int kind_of(const gradin_buildup *buildup) {
    if (!has_layer(buildup, GRADIN_LAYER_GAP))
        return has_layer(buildup, GRADIN_LAYER_INTERLAYER) ? LAMINATED : PANE;
    return gradin_glazing_frames(buildup) == GRADIN_FRAMES_SPACER ? UNIT : DOUBLE;
}

static double predicted_db(const gradin_buildup *buildup, int band) {
    int octave = band / 3 - 1;
    octave = octave < 0 ? 0 : octave < N_OCTAVE_KNOWN ? octave : N_OCTAVE_KNOWN - 1;
    return left_out_db[kind_of(buildup)][octave];
}

/* Octaves from a band to the nearest measured one; 0 when it is measured, or nothing is. */
static double octaves_beyond(const gradin_buildup *buildup, int band) {
    for (int step = 0; step < GRADIN_N_BAND; step++)
        for (int side = -1; side <= 1; side += 2) {
            int b = band + side * step;
            if (b >= 0 && b < GRADIN_N_BAND && !isnan(buildup->measured_r_db[b])) return step / 3.0;
        }
    return 0.0;
}

static double measured_db(const gradin_buildup *buildup, int band) {
    double own_db = laboratory_db[buildup->is_octave ? 3 * (band / 3) + 1 : band];
    if (buildup->generic) own_db = hypot(own_db, generic_db);
    if (!isnan(buildup->measured_r_db[band])) return own_db;
    return hypot(own_db, buildup->layer ? predicted_db(buildup, band)
                                        : flat_db_per_octave * octaves_beyond(buildup, band));
}

const char *gradin_glazing_uncertainty_db(const gradin_buildup *buildup, double *u_db) {
    if (!buildup || !u_db) return NULL;
    for (int b = 0; b < GRADIN_N_BAND; b++)
        u_db[b] = buildup->is_measured ? measured_db(buildup, b) : predicted_db(buildup, b);
    if (!buildup->is_measured)
        return kind_of(buildup) == LAMINATED
                   ? "predicted: error against published glazing that no value was chosen on, or "
                     "what sources of laminated panes differ by"
                   : "predicted: error against published glazing that no value was chosen on";
    return buildup->generic ? "generic: ISO 12999-1:2020 Table 2 and what like builds differ by"
                            : "measured: ISO 12999-1:2020 Table 2, situation A";
}
