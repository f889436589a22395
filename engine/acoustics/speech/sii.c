/* Speech intelligibility index, one-third-octave procedure.
 *
 * ANSI S3.5-1997, clause 5 and Table 3: self-masking V = E - 24, spread of masking, disturbance
 * D = max(Z, X), level distortion, audibility, sum over the band importance. Standard speech
 * spectra and importance: Table 3. Reference internal noise spectrum level: Table 3, from memory.
 * Normal hearing, one ear's worth, no visual cues. */
#include "gradin/acoustics/speech.h"

#include <pthread.h>

static const double mid_hz[GRADIN_N_SPEECH_BAND] = {160,  200,  250,  315,  400,  500,
                                                    630,  800,  1000, 1250, 1600, 2000,
                                                    2500, 3150, 4000, 5000, 6300, 8000};

static const double speech_db[GRADIN_N_EFFORT][GRADIN_N_SPEECH_BAND] = {
    {32.41, 34.48, 34.75, 33.98, 34.59, 34.27, 32.06, 28.30, 25.01, 23.00, 20.15, 17.32, 13.18,
     11.55, 9.33, 5.31, 2.59, 1.13},
    {33.81, 33.92, 38.98, 38.57, 39.11, 40.15, 38.78, 36.37, 33.86, 31.89, 28.58, 25.32, 22.35,
     20.15, 16.78, 11.47, 7.67, 5.07},
    {35.29, 37.76, 41.55, 43.78, 43.30, 44.85, 45.55, 44.05, 42.16, 40.53, 37.70, 34.39, 30.98,
     28.21, 25.41, 18.35, 13.87, 11.39},
    {30.77, 36.65, 42.50, 46.51, 47.40, 49.24, 51.21, 51.44, 51.31, 49.63, 47.65, 44.32, 40.80,
     38.13, 34.41, 28.24, 23.45, 20.72}};

static const double importance[GRADIN_N_SPEECH_BAND] = {
    0.0083, 0.0095, 0.0150, 0.0289, 0.0440, 0.0578, 0.0653, 0.0711, 0.0818,
    0.0844, 0.0882, 0.0898, 0.0868, 0.0844, 0.0771, 0.0527, 0.0364, 0.0185};

static const double internal_db[GRADIN_N_SPEECH_BAND] = {
    0.60,   -1.70,  -3.90,  -6.10,  -8.20,  -9.70,  -10.80, -11.90, -12.50,
    -13.50, -15.40, -17.70, -21.20, -24.20, -25.90, -23.60, -15.80, -7.10};

double gradin_speech_level_db(gradin_effort effort, int band) {
    bool is_there =
        (int)effort >= 0 && effort < GRADIN_N_EFFORT && band >= 0 && band < GRADIN_N_SPEECH_BAND;
    if (!is_there) return NAN;
    return speech_db[effort][band];
}

/* What stays the same from call to call, since a season asks some ten million times: octaves from
 * a masker, less half a band, to the band it masks, and 10 lg of the middles. */
static double octaves_above[GRADIN_N_SPEECH_BAND][GRADIN_N_SPEECH_BAND];
static double mid_db[GRADIN_N_SPEECH_BAND];
static pthread_once_t tables_once = PTHREAD_ONCE_INIT;

static void make_tables(void) {
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        mid_db[i] = 10.0 * log10(mid_hz[i]);
        for (int k = 0; k < i; k++)
            octaves_above[i][k] = 3.32 * log10(0.89 * mid_hz[i] / mid_hz[k]);
    }
}

static double energy(double level_db) {
    return exp(0.23025850929940457 * level_db); /* ln(10)/10 */
}

/* Z: noise and what lower bands mask upwards, as energy. */
static double masking(const double *masker_db, const double *slope_db, const double *noise_db,
                      int band) {
    double sum = energy(noise_db[band]);
    for (int k = 0; k < band; k++)
        sum += energy(masker_db[k] + slope_db[k] * octaves_above[band][k]);
    return sum;
}

double gradin_sii(const double *speech, const double *noise_db) {
    double masker_db[GRADIN_N_SPEECH_BAND], slope_db[GRADIN_N_SPEECH_BAND], index = 0.0;
    pthread_once(&tables_once, make_tables);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        masker_db[i] = fmax(speech[i] - 24.0, noise_db[i]); /* V = E - 24 */
        slope_db[i] = -80.0 + 0.6 * (masker_db[i] + mid_db[i] - 6.353);
        double z_db = 10.0 * log10(masking(masker_db, slope_db, noise_db, i));
        double disturbance_db = fmax(z_db, internal_db[i]); /* D of clause 5 */
        double level = 1.0 - (speech[i] - speech_db[GRADIN_EFFORT_NORMAL][i] - 10.0) / 160.0;
        double audible = (speech[i] - disturbance_db + 15.0) / 30.0;
        index += importance[i] * fmin(fmax(level, 0.0), 1.0) * fmin(fmax(audible, 0.0), 1.0);
    }
    return index;
}
