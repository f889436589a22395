/* The overflight at a seat as sound.
 *
 * One noise per third octave follows the sum of mean squares of the overflight and of the voice;
 * the sum over the bands is the signal, in 20 uPa. A voice is noise of the standard speech spectrum
 * (ANSI S3.5) as it arrives at the seat, with all of its reverberation, in a rhythm of 4 Hz, where
 * the fluctuations of running speech are strongest (Houtgast and Steeneken 1985, from memory):
 * mean square times (1) 1 - cos(2 pi 4 t), whose mean over a second is 1. A sine of full amplitude
 * has the full-scale level. */
#include "gradin/acoustics/listen.h"
#include "base/use.h"
#include "model/complete.h"
#include "studies/listen/course.h"
#include "studies/listen/follow.h"
#include "studies/listen/noise.h"

enum { RATE = GRADIN_LISTEN_RATE_HZ, FIRST_SPEECH = 5, FADE = RATE / 50 };
enum { HEAD = (GRADIN_LISTEN_TONE_S + GRADIN_LISTEN_PAUSE_S) * RATE };

static const double rhythm_hz = 4.0;

/* Signals of the overflight's length n. */
typedef struct mixer {
    int n;
    float *square, *noise; /* [n] of one band */
    double *sum;           /* [n] of all */
    listen_noise scratch;
} mixer;

static double mid_hz(int band) {
    return 1000.0 * pow(10.0, (band - 13) / 10.0);
}

/* Band levels of the voice at the seat, its late reverberation included, without other noise. */
static gradin_status hear_voice(gradin_arena *arena, const gradin_model *model, gradin_recording *r,
                                gradin_error *error) {
    gradin_voice voice;
    double width = pow(10.0, 0.05) - pow(10.0, -0.05), sum = 0.0;
    for (int b = 0; b < GRADIN_N_LISTEN_BAND; b++) r->voice_db[b] = -INFINITY;
    r->voice_dba = -INFINITY;
    if (!r->has_voice) return GRADIN_OK;
    gradin_status status = gradin_voice_make(arena, model, r->effort, NULL, 0, &voice, error);
    if (status != GRADIN_OK) return status;
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        int at = r->seat * GRADIN_N_SPEECH_BAND + i, band = FIRST_SPEECH + i;
        double square = pow(10.0, 0.1 * voice.useful_db[at]) + voice.masking[at];
        r->voice_db[band] = 10.0 * log10(square * width * mid_hz(band));
        sum += pow(10.0, 0.1 * (r->voice_db[band] + gradin_a_weight_db(mid_hz(band))));
    }
    r->voice_dba = 10.0 * log10(sum);
    return GRADIN_OK;
}

static void add_voice(double voice_db, float *square, int n) {
    double mean = pow(10.0, 0.1 * voice_db);
    for (int i = 0; i < n && mean > 0.0; i++) {
        int at = i % RATE;
        double swing = 1.0 - cos(2.0 * GRADIN_PI * rhythm_hz * (at + 0.5) / RATE); /* (1) */
        square[i] += (float)(mean * swing);
    }
}

static void mix(const listen_course *course, const gradin_recording *r, mixer *m) {
    for (int band = 0; band < GRADIN_N_LISTEN_BAND; band++) {
        for (int i = 0; i < m->n; i++) m->square[i] = 0.0f;
        if (band < GRADIN_N_BAND) listen_course_square(course, band, m->square);
        add_voice(r->voice_db[band], m->square, m->n);
        if (band >= GRADIN_N_BAND && !r->has_voice) continue;
        listen_noise_fill(&m->scratch, band, r->seed, m->noise, m->n);
        listen_follow(m->square, m->noise, m->n / LISTEN_STEP);
        for (int i = 0; i < m->n; i++) m->sum[i] += m->noise[i];
    }
}

/* Tone, pause and the sum with soft ends, in shares of full scale. */
static void take_samples(const mixer *m, gradin_recording *r, float *sample) {
    double tone = pow(10.0, 0.05 * (GRADIN_LISTEN_TONE_DB - r->full_scale_db));
    double scale = pow(10.0, -0.05 * r->full_scale_db) / sqrt(2.0), peak = 0.0;
    for (int i = 0; i < GRADIN_LISTEN_TONE_S * RATE; i++)
        sample[i] =
            (float)(tone * sin(2.0 * GRADIN_PI * GRADIN_LISTEN_TONE_HZ * (i % RATE) / RATE));
    for (int i = 0; i < m->n; i++) {
        double end = fmin(fmin(i + 1, m->n - i) / FADE, 1.0);
        sample[HEAD + i] = (float)(end * scale * m->sum[i]);
        peak = fmax(peak, fabs(sample[HEAD + i]));
    }
    r->peak_db = 20.0 * log10(peak);
}

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the recording");
}

static gradin_status record(gradin_arena *arena, gradin_arena *scratch, const listen_course *course,
                            gradin_recording *r, gradin_error *error) {
    mixer m = {.n = course->n_second * RATE};
    size_t n = (size_t)m.n, n_second = (size_t)course->n_second;
    float *sample = gradin_arena_alloc(arena, n + HEAD, sizeof *sample);
    gradin_listen_second *second = gradin_arena_alloc(arena, n_second, sizeof *second);
    m.square = gradin_arena_alloc(scratch, n, sizeof *m.square);
    m.noise = gradin_arena_alloc(scratch, n, sizeof *m.noise);
    m.sum = gradin_arena_alloc(scratch, n, sizeof *m.sum);
    bool is_ready =
        listen_noise_begin(&m.scratch) && sample && second && m.square && m.noise && m.sum;
    if (is_ready) {
        listen_course_seconds(course, m.square, second);
        mix(course, r, &m);
        take_samples(&m, r, sample);
    }
    listen_noise_end(&m.scratch);
    if (!is_ready) return out_of_memory(error);
    r->sample = sample;
    r->n_sample = HEAD + m.n;
    r->second = second;
    r->n_second = course->n_second;
    r->most_dba = -INFINITY;
    for (int k = 0; k < r->n_second; k++) r->most_dba = fmax(r->most_dba, second[k].a_dba);
    if (r->peak_db <= 0.0) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.key = "--full-scale"},
                            "the loudest sample lies %.1f dB above full scale, %.0f dB; at least "
                            "%.0f dB is needed",
                            r->peak_db, r->full_scale_db, ceil(r->full_scale_db + r->peak_db));
}

static gradin_status check_use(const gradin_model *model, const gradin_listen_options *o,
                               gradin_error *error) {
    if (NEEDS(error, model->pass, o->seat) != GRADIN_OK) return GRADIN_BAD_USE;
    bool is_good = (int)o->shades >= 0 && o->shades < GRADIN_N_SHADE_STATE && (int)o->effort >= 0 &&
                   o->effort < GRADIN_N_EFFORT && o->length_s >= GRADIN_LISTEN_LEAST_S &&
                   o->length_s <= GRADIN_LISTEN_MOST_S &&
                   o->full_scale_db >= GRADIN_LISTEN_TONE_DB && isfinite(o->full_scale_db);
    if (is_good) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                            "a recording needs a state of the shades, an effort, %d to %d s and a "
                            "full scale not below the tone",
                            GRADIN_LISTEN_LEAST_S, GRADIN_LISTEN_MOST_S);
}

gradin_status gradin_listen(gradin_arena *arena, const gradin_model *model,
                            const gradin_listen_options *options, gradin_recording *recording,
                            gradin_error *error) {
    if (NEEDS(error, arena, model, options, recording) != GRADIN_OK ||
        model_complete(model, error) != GRADIN_OK || check_use(model, options, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_arena *scratch = gradin_arena_create();
    if (!scratch) return out_of_memory(error);
    listen_course course;
    *recording = (gradin_recording){.model = model,
                                    .shades = options->shades,
                                    .has_voice = options->has_voice,
                                    .effort = options->effort,
                                    .full_scale_db = options->full_scale_db,
                                    .seed = options->seed};
    gradin_status status = listen_course_make(scratch, model, options, recording, &course, error);
    if (status == GRADIN_OK) status = hear_voice(scratch, model, recording, error);
    if (status == GRADIN_OK) status = record(arena, scratch, &course, recording, error);
    gradin_arena_destroy(scratch);
    return status;
}
