/* Noise of one third octave with steep edges.
 *
 * Pieces of 2.7 s with all their lines inside the band's edges (IEC 61260-1, base 10), of one
 * amplitude and phases at random, are turned into time by an inverse Fourier transform and overlap
 * by half. Each is faded by a half sine, whose squares sum to 1, so that pieces that know nothing
 * of each other join at a steady power. A phase is a function of seed, band, piece and line alone
 * (Philox), so the noise is the same on every machine. Lines are 0.37 Hz apart: 31 of them in the
 * band of 50 Hz. */
#include "studies/listen/noise.h"
#include "base/philox.h"

#include <kiss_fftr.h>
#include <stdlib.h>

enum { PIECE = 1 << 17, HOP = PIECE / 2, BAND_1K = 13 };

bool listen_noise_begin(listen_noise *scratch) {
    *scratch = (listen_noise){.plan = kiss_fftr_alloc(PIECE, 1, NULL, NULL),
                              .spectrum = calloc(PIECE / 2 + 1, sizeof(kiss_fft_cpx)),
                              .piece = calloc(PIECE, sizeof(float))};
    return scratch->plan && scratch->spectrum && scratch->piece;
}

void listen_noise_end(listen_noise *scratch) {
    free(scratch->plan);
    free(scratch->spectrum);
    free(scratch->piece);
}

static int line_at(double band) {
    double f_hz = 1000.0 * pow(10.0, (band - BAND_1K) / 10.0);
    return (int)ceil(f_hz * PIECE / GRADIN_LISTEN_RATE_HZ);
}

/* One piece of mean square 1. */
static void make_piece(const listen_noise *scratch, int band, int index, uint32_t seed) {
    kiss_fft_cpx *spectrum = scratch->spectrum;
    int first = line_at(band - 0.5), end = line_at(band + 0.5);
    double amplitude = 1.0 / sqrt(2.0 * (end - first));
    const uint32_t key[2] = {seed, 0x6C697374u};
    for (int k = 0; k <= PIECE / 2; k++) spectrum[k] = (kiss_fft_cpx){0.0f, 0.0f};
    for (int k = first; k < end; k++) {
        const uint32_t counter[4] = {(uint32_t)k, (uint32_t)index, (uint32_t)band, 0};
        double angle = 2.0 * GRADIN_PI * gradin_philox(counter, key).word[0] / 4294967296.0;
        spectrum[k].r = (float)(amplitude * cos(angle));
        spectrum[k].i = (float)(amplitude * sin(angle));
    }
    kiss_fftri(scratch->plan, spectrum, scratch->piece);
}

void listen_noise_fill(const listen_noise *scratch, int band, uint32_t seed, float *out, int n) {
    for (int i = 0; i < n; i++) out[i] = 0.0f;
    for (int index = 0; (index - 1) * HOP < n; index++) {
        int from = (index - 1) * HOP;
        make_piece(scratch, band, index, seed);
        for (int i = from < 0 ? -from : 0; i < PIECE && from + i < n; i++)
            out[from + i] += scratch->piece[i] * (float)sin(GRADIN_PI * (i + 0.5) / PIECE);
    }
}
