/* Noise made to follow a level.
 *
 * Random noise strays from its level: in a band of 12 Hz by 1.3 dB over a second (4.34
 * dB/sqrt(BT)). Levels that are worked out are means, and what is heard is to be compared with
 * them, so gains, straight between the middles of steps, bring the mean square of each step to what
 * it should be. Gains at both sides bear on a step; they are found in turns, each taking the square
 * root of what its step still lacks. What varies within a step is left as it is. */
#include "studies/listen/follow.h"

enum { HALF = LISTEN_STEP / 2, TURNS = 20 };

/* Sums over half a step of y^2, y^2 u and y^2 u^2, u running from 0 to 1 between two middles. */
typedef struct half_sums {
    double s0, s1, s2;
} half_sums;

static half_sums sum_half(const float *noise, int half) {
    half_sums s = {0.0, 0.0, 0.0};
    double start = half % 2 ? 0.0 : 0.5; /* a step's first half ends in its middle */
    for (int i = 0; i < HALF; i++) {
        double y = noise[half * HALF + i], u = start + 0.5 * (i + 0.5) / HALF, y2 = y * y;
        s.s0 += y2;
        s.s1 += y2 * u;
        s.s2 += y2 * u * u;
    }
    return s;
}

/* Of the half with gains that run from a to b. */
static double power(half_sums s, double a, double b) {
    double d = b - a;
    return a * a * s.s0 + 2.0 * a * d * s.s1 + d * d * s.s2;
}

static double before(const double *gain, int k) {
    return gain[k > 0 ? k - 1 : k];
}

static double after(const double *gain, int k, int n) {
    return gain[k + 1 < n ? k + 1 : k];
}

static void find_gains(const float *square, const float *noise, int n, double *gain) {
    half_sums half[2 * LISTEN_MOST_STEPS];
    double wanted[LISTEN_MOST_STEPS], next[LISTEN_MOST_STEPS];
    for (int k = 0; k < n; k++) {
        half[2 * k] = sum_half(noise, 2 * k);
        half[2 * k + 1] = sum_half(noise, 2 * k + 1);
        gain[k] = 1.0;
        wanted[k] = 0.0;
        for (int i = 0; i < LISTEN_STEP; i++) wanted[k] += square[k * LISTEN_STEP + i];
    }
    for (int turn = 0; turn < TURNS; turn++) {
        for (int k = 0; k < n; k++) {
            double is = power(half[2 * k], before(gain, k), gain[k]) +
                        power(half[2 * k + 1], gain[k], after(gain, k, n));
            next[k] = is > 0.0 ? gain[k] * sqrt(wanted[k] / is) : gain[k];
        }
        for (int k = 0; k < n; k++) gain[k] = next[k];
    }
}

void listen_follow(const float *square, float *noise, int n_step) {
    double gain[LISTEN_MOST_STEPS];
    for (int i = 0; i < n_step * LISTEN_STEP; i++) noise[i] *= sqrtf(square[i]);
    find_gains(square, noise, n_step, gain);
    for (int h = 0; h < 2 * n_step; h++) {
        int k = h / 2;
        double a = h % 2 ? gain[k] : before(gain, k);
        double b = h % 2 ? after(gain, k, n_step) : gain[k], start = h % 2 ? 0.0 : 0.5;
        for (int i = 0; i < HALF; i++) {
            double u = start + 0.5 * (i + 0.5) / HALF;
            noise[h * HALF + i] *= (float)(a + (b - a) * u);
        }
    }
}
