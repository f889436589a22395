/* Noise of a third octave and how it follows a level. The spectrum is looked at through the whole
 * file in tests/cli/test_listen.py. */
#include <criterion/criterion.h>

#include "studies/listen/follow.h"
#include "studies/listen/noise.h"

enum { N_STEP = 8, N = N_STEP * LISTEN_STEP };

static float noise[N], square[N], other[N];

static double mean_square(const float *x, int from, int n) {
    double sum = 0.0;
    for (int i = 0; i < n; i++) sum += (double)x[from + i] * x[from + i];
    return sum / n;
}

/* Over many seconds of a wide band the power is 1: 4.34 dB/sqrt(BT) of stray is 0.1 dB at 500 Hz.
 */
Test(listen, noise_has_power_one) {
    listen_noise scratch;
    cr_assert(listen_noise_begin(&scratch));
    for (int band = 10; band < GRADIN_N_LISTEN_BAND; band += 6) {
        listen_noise_fill(&scratch, band, 7, noise, N);
        double db = 10.0 * log10(mean_square(noise, 0, N));
        cr_assert(fabs(db) < 0.5, "band %d: %.3f dB", band, db);
        listen_noise_fill(&scratch, band, 7, other, N / 2);
        for (int i = 0; i < N / 2; i++) cr_assert(other[i] == noise[i], "sample %d", i);
        listen_noise_fill(&scratch, band, 8, other, N / 2);
        double product = 0.0;
        for (int i = 0; i < N / 2; i++) product += (double)other[i] * noise[i];
        cr_assert(fabs(product / (N / 2)) < 0.15, "band %d: alike", band);
    }
    listen_noise_end(&scratch);
}

/* Each step has the mean of what it follows, however steep that is: here 6 dB a second. In the band
 * of 50 Hz, 11.5 Hz wide, the noise by itself strays by 1.8 dB over half a second. */
Test(listen, each_step_has_its_mean) {
    listen_noise scratch;
    cr_assert(listen_noise_begin(&scratch));
    for (int band = 0; band < GRADIN_N_LISTEN_BAND; band += 11) {
        double before = 0.0;
        for (int i = 0; i < N; i++) square[i] = (float)pow(4.0, (double)i / (2 * LISTEN_STEP));
        listen_noise_fill(&scratch, band, 3, noise, N);
        for (int k = 0; k < N_STEP; k++)
            before =
                fmax(before, fabs(10.0 * log10(mean_square(noise, k * LISTEN_STEP, LISTEN_STEP))));
        listen_follow(square, noise, N_STEP);
        for (int k = 0; k < N_STEP; k++) {
            double wanted = 0.0;
            for (int i = 0; i < LISTEN_STEP; i++) wanted += square[k * LISTEN_STEP + i];
            double got = mean_square(noise, k * LISTEN_STEP, LISTEN_STEP);
            double off_db = 10.0 * log10(got * LISTEN_STEP / wanted);
            cr_assert(fabs(off_db) < 0.05, "band %d step %d: %.3f dB", band, k, off_db);
        }
        cr_assert(band > 0 || before > 0.5, "nothing to even out: %.3f dB", before);
    }
    listen_noise_end(&scratch);
}

/* Silence stays silence, and one step has nothing beside it. */
Test(listen, ends_and_silence) {
    for (int i = 0; i < N; i++) {
        noise[i] = i % 2 ? 2.0f : -2.0f;
        square[i] = i < N / 2 ? 0.0f : 9.0f;
    }
    listen_follow(square, noise, N_STEP);
    cr_assert(noise[0] == 0.0f && fabs(noise[N - 1] + 0.0) > 2.9 && fabs(noise[N - 1]) < 3.1);
    for (int i = 0; i < LISTEN_STEP; i++) {
        noise[i] = i % 2 ? 2.0f : -2.0f;
        square[i] = 4.0f;
    }
    listen_follow(square, noise, 1);
    cr_assert(fabs(noise[5] - 2.0f) < 1e-5f, "%g", (double)noise[5]);
}
