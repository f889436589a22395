/* Standard uncertainty of a sound reduction index, by band.
 *
 * Measured: ISO 12999-1:2020 Table 2, situation A, what laboratories differ by (second-hand copy:
 * reference/iso-12999-1). Octaves: that of the middle third, since the thirds of one octave err
 * together. Predicted: root mean square of predicted less published, the published source being
 * left out when the four values of mounting.c were chosen (test_glazing_left_out.c), by octave 125
 * Hz to 4 kHz, of one pane, of sealed units, and of two panes in frames; beyond, the nearest
 * octave. Frames are as the sources word them. It is systematic: the same at every seat and event.
 * Limits: build-ups like those of the tables; the published double windows differ by up to 16 dB in
 * a band for nearly the same words, which is why their row is large (reference/bies-2017). */
#include "acoustics/glazing/tmm.h"
#include "gradin/glazing.h"

enum { N_OCTAVE_KNOWN = 6 };

static const double laboratory_db[GRADIN_N_BAND] = {6.8, 4.6, 3.8, 3.0, 2.7, 2.4, 2.1,
                                                    1.8, 1.8, 1.8, 1.8, 1.8, 1.8, 1.8,
                                                    1.8, 1.8, 1.8, 1.9, 2.0, 2.4, 2.8};

static const double left_out_db[3][N_OCTAVE_KNOWN] = {
    {2.3, 2.1, 2.1, 3.0, 2.6, 2.2},
    {2.9, 2.0, 1.5, 2.3, 2.0, 4.5},
    {5.8, 6.2, 6.7, 5.2, 5.1, 5.6},
};

static int kind_of(const gradin_buildup *buildup) {
    int n_gap = 0;
    for (int i = 0; i < buildup->n_layer; i++) n_gap += buildup->layer[i].kind == GRADIN_LAYER_GAP;
    if (n_gap == 0) return 0;
    return gradin_glazing_frames(buildup) == GRADIN_FRAMES_SPACER ? 1 : 2;
}

const char *gradin_glazing_uncertainty_db(const gradin_buildup *buildup, double *u_db) {
    if (!buildup || !u_db) return NULL;
    int kind = buildup->is_measured ? 0 : kind_of(buildup);
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        int octave = b / 3 - 1, middle = 3 * (b / 3) + 1;
        octave = octave < 0 ? 0 : octave < N_OCTAVE_KNOWN ? octave : N_OCTAVE_KNOWN - 1;
        bool is_scaled = buildup->is_measured && isnan(buildup->measured_r_db[b]);
        double laboratory = laboratory_db[buildup->is_octave ? middle : b];
        u_db[b] = !buildup->is_measured ? left_out_db[kind][octave]
                  : is_scaled           ? hypot(laboratory, left_out_db[kind_of(buildup)][octave])
                                        : laboratory;
    }
    return buildup->is_measured ? "measured: ISO 12999-1:2020 Table 2, situation A"
                                : "predicted: error against published glazing that no value was "
                                  "chosen on";
}
