/* Every rating that the bands of a spectrum allow.
 *
 * Octaves are the energy sum of three thirds, where all three are given. dB(A): IEC 61672-1 at the
 * exact middle of each band. Speech interference level: (1) mean of the octaves 500, 1000, 2000 and
 * 4000 Hz (ANSI/ASA S12.65, ISO/TR 3352, from memory). NC and NR: ratings/room_criteria.c; speech
 * intelligibility index: speech/sii.c, whose spectrum levels are (2) L - 10 lg bandwidth, of
 * octaves evenly over their width. Limits: steady noise. Noise at 6.3 and 8 kHz that is not given
 * has the spectrum level of 5 kHz, as a voice's has at the seats (speech/voice.c). */
#include "base/use.h"
#include "gradin/acoustics/noise_rating.h"

enum { BAND_1K = 19, FIRST_SPEECH = 11, BAND_5K = 26, OCTAVE_125 = 3, OCTAVE_500 = 5 };
enum { OCTAVE_4K = 8, OCTAVE_31 = 1 };

static double mid_hz(int band) {
    return 1000.0 * pow(10.0, (band - BAND_1K) / 10.0);
}

static void find_run(gradin_spectrum_rating *rating) {
    const double *level_db = rating->spectrum->level_db;
    rating->first_band = 0;
    rating->last_band = GRADIN_N_WIDE_BAND - 1;
    while (rating->first_band < rating->last_band && isnan(level_db[rating->first_band]))
        rating->first_band++;
    while (rating->last_band > rating->first_band && isnan(level_db[rating->last_band]))
        rating->last_band--;
}

static void find_octaves(gradin_spectrum_rating *rating) {
    const double *level_db = rating->spectrum->level_db;
    for (int k = 0; k < GRADIN_N_WIDE_OCTAVE; k++)
        rating->octave_db[k] = rating->spectrum->is_octave
                                   ? level_db[3 * k + 1]
                                   : gradin_level_sum_db(&level_db[3 * k], 3);
}

static double a_level(const gradin_spectrum *spectrum) {
    double weighted_db[GRADIN_N_WIDE_BAND];
    for (int b = 0; b < GRADIN_N_WIDE_BAND; b++) {
        double level_db = spectrum->level_db[b];
        weighted_db[b] = isnan(level_db) ? -INFINITY : level_db + gradin_a_weight_db(mid_hz(b));
    }
    return gradin_level_sum_db(weighted_db, GRADIN_N_WIDE_BAND);
}

static bool are_given(const double *value, int first, int last) {
    for (int i = first; i <= last; i++)
        if (isnan(value[i])) return false;
    return true;
}

static double interference(const double *octave_db) {
    double sum_db = 0.0;
    for (int k = OCTAVE_500; k <= OCTAVE_4K; k++) sum_db += octave_db[k];
    return sum_db / (OCTAVE_4K - OCTAVE_500 + 1); /* (1) */
}

/* By a criterion of n octaves from wide octave `from` on. */
static gradin_criterion_rating rate_by(double rate(const double *octave_db, int *octave),
                                       const double *octave_db, int from, int n) {
    gradin_criterion_rating rating = {.value = NAN, .octave = -1, .first = from};
    if (!are_given(octave_db, OCTAVE_125, OCTAVE_4K)) return rating;
    while (isnan(octave_db[rating.first])) rating.first++;
    rating.last = from + n - 1;
    while (isnan(octave_db[rating.last])) rating.last--;
    rating.value = rate(&octave_db[from], &rating.octave);
    if (rating.octave >= 0) rating.octave += from;
    return rating;
}

/* Spectrum levels of the speech bands; *is_held when the two above 5 kHz are not given. False when
 * others are not. */
static bool spectrum_levels(const gradin_spectrum *spectrum, double *out_db, bool *is_held) {
    int per = spectrum->is_octave ? 3 : 1;
    double half = per / 20.0, width = pow(10.0, half) - pow(10.0, -half);
    *is_held = false;
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        int band = FIRST_SPEECH + i, at = per == 3 ? band / 3 * 3 + 1 : band;
        out_db[i] = spectrum->level_db[at] - 10.0 * log10(width * mid_hz(at)); /* (2) */
        if (!isnan(out_db[i])) continue;
        if (band <= BAND_5K) return false;
        out_db[i] = out_db[i - 1];
        *is_held = true;
    }
    return true;
}

static void rate_one(const double *speech_db, gradin_spectrum_rating *rating) {
    double noise_db[GRADIN_N_SPEECH_BAND];
    find_run(rating);
    find_octaves(rating);
    rating->a_db = a_level(rating->spectrum);
    rating->sil_db = interference(rating->octave_db);
    rating->nc = rate_by(gradin_room_nc, rating->octave_db, 0, GRADIN_N_NC_OCTAVE);
    rating->nr = rate_by(gradin_nr, rating->octave_db, OCTAVE_31, GRADIN_N_NR_OCTAVE);
    bool is_whole = spectrum_levels(rating->spectrum, noise_db, &rating->is_top_held);
    rating->sii = is_whole ? gradin_sii(speech_db, noise_db) : NAN;
}

static gradin_status take_speech(const gradin_spectrum *speech, gradin_effort effort,
                                 double *speech_db, gradin_error *error) {
    bool is_held;
    if (speech && !spectrum_levels(speech, speech_db, &is_held))
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "the speech needs the thirds 160 to 5000 Hz, or the octaves 125 to "
                                "4000 Hz");
    if (!speech && ((int)effort < 0 || effort >= GRADIN_N_EFFORT))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "no such effort of a voice");
    for (int i = 0; i < GRADIN_N_SPEECH_BAND && !speech; i++)
        speech_db[i] = gradin_speech_level_db(effort, i);
    return GRADIN_OK;
}

gradin_status gradin_spectra_rate(gradin_arena *arena, const gradin_spectra *spectra,
                                  const gradin_spectrum *speech, gradin_effort effort,
                                  gradin_spectrum_sheet *sheet, gradin_error *error) {
    if (NEEDS(error, arena, spectra, sheet) != GRADIN_OK ||
        NEEDS(error, spectra->spectrum) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (spectra->n_spectrum < 1 || spectra->n_spectrum > GRADIN_MAX_SPECTRUM)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "1 to %d spectra are rated",
                                GRADIN_MAX_SPECTRUM);
    double speech_db[GRADIN_N_SPEECH_BAND];
    gradin_status status = take_speech(speech, effort, speech_db, error);
    if (status != GRADIN_OK) return status;
    size_t n = (size_t)spectra->n_spectrum;
    gradin_spectrum_rating *rating = gradin_arena_alloc(arena, n, sizeof *rating);
    if (!rating) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for ratings");
    for (size_t i = 0; i < n; i++) {
        rating[i].spectrum = &spectra->spectrum[i];
        rate_one(speech_db, &rating[i]);
    }
    *sheet = (gradin_spectrum_sheet){
        .source = spectra, .rating = rating, .speech = speech, .effort = effort};
    return GRADIN_OK;
}
