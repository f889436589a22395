/* An unamplified voice from the stage at every seat.
 *
 * Direct sound of the standard spectrum at 1 m by spherical spreading, turned away from the stage's
 * axis by (1) 7 (1 - cos theta)/2 dB (about 3.5 beside and 7 behind the talker, from memory);
 * without an axis the talker turns about and 3 dB less reaches everybody. Power from the level
 * before the mouth with a directivity index of 3 dB (from memory). The room is Eyring's diffuse
 * field by either room method: what arrives within 50 ms helps, (2) 1 - exp(-13.8 * 0.05/T) of it;
 * the rest masks. The two bands above 5 kHz take the room and the noise of 5 kHz. */
#include "acoustics/room/room.h"
#include "acoustics/speech/background.h"
#include "base/use.h"
#include "gradin/acoustics/speech.h"
#include "model/complete.h"

enum { FIRST_BAND = 5 }; /* 160 Hz among the 21 */

static const double mouth_above_m = 1.5, least_m = 1.0, early_s = 0.05;
static const double behind_db = 7.0, turning_db = 3.0, directivity_db = 3.0;

static double energy(double level_db) {
    return pow(10.0, 0.1 * level_db);
}

static int band_of(int speech_band) {
    int band = speech_band + FIRST_BAND;
    return band < GRADIN_N_BAND ? band : GRADIN_N_BAND - 1;
}

/* People speak from a floor; where there is none, from a point, or before an upright's foot. */
static int rank_of(gradin_focus_kind kind) {
    return kind == GRADIN_FOCUS_FLOOR ? 0 : kind == GRADIN_FOCUS_POINT ? 1 : 2;
}

static gradin_vec3 mouth_of(const gradin_model *model) {
    const gradin_focus *best = &model->focus[0];
    for (int i = 1; i < model->n_focus; i++) {
        const gradin_focus *other = &model->focus[i];
        int step = rank_of(other->kind) - rank_of(best->kind);
        if (step < 0 || (step == 0 && other->weight > best->weight)) best = other;
    }
    gradin_vec3 mouth_m = gradin_focus_middle_m(best);
    if (best->kind == GRADIN_FOCUS_FLOOR) mouth_m.z += mouth_above_m;
    if (best->kind == GRADIN_FOCUS_UPRIGHT) mouth_m.z = best->bottom_m + mouth_above_m;
    return mouth_m;
}

static double turned_away_db(const gradin_model *model, gradin_vec3 way) {
    if (isnan(model->axis_deg)) return turning_db;
    gradin_vec2 ahead = gradin_bearing_unit(model->axis_deg);
    double cosine = (way.x * ahead.x + way.y * ahead.y) / fmax(gradin_norm(way), 1e-9);
    return behind_db * 0.5 * (1.0 - cosine); /* (1) */
}

/* Of a seat's bands beside a background. */
static size_t start_of(const gradin_voice *voice, int background, int seat) {
    return ((size_t)background * (size_t)voice->n_seat + (size_t)seat) * GRADIN_N_SPEECH_BAND;
}

static void reach_seat(const gradin_model *model, const gradin_room_field *field,
                       double own[][GRADIN_N_SPEECH_BAND], int seat, gradin_voice *voice) {
    gradin_vec3 way = gradin_sub(model->seats.eye_m[seat], voice->mouth_m);
    int side = gradin_room_side(model, model->seats.eye_m[seat]);
    int from = gradin_room_side(model, voice->mouth_m);
    double apart_m = fmax(gradin_norm(way), least_m), away_db = turned_away_db(model, way);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        size_t at = (size_t)seat * GRADIN_N_SPEECH_BAND + (size_t)i;
        int band = band_of(i);
        double before = energy(gradin_speech_level_db(voice->effort, i));
        double power = before * 4.0 * GRADIN_PI * energy(-directivity_db);
        double room = power * field->reverberant_1m2[side][from][band];
        double late = exp(-13.8 * early_s / field->reverberation_s[side][band]); /* (2) */
        double direct = before * energy(-away_db) / (apart_m * apart_m);
        voice->useful_db[at] = 10.0 * log10(direct + room * (1.0 - late));
        for (int k = 0; k < voice->n_background; k++)
            voice->masking[start_of(voice, k, seat) + (size_t)i] = room * late + own[k][i];
    }
}

static double sii_with(const gradin_voice *voice, int background, int seat, const double *noise) {
    double noise_db[GRADIN_N_SPEECH_BAND];
    const double *masking = voice->masking + start_of(voice, background, seat);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++)
        noise_db[i] = 10.0 * log10(masking[i] + (noise ? noise[i] : 0.0));
    return gradin_sii(voice->useful_db + start_of(voice, 0, seat), noise_db);
}

double gradin_voice_sii(const gradin_voice *voice, int background, int seat,
                        const double *band_db) {
    if (!voice || !band_db || seat < 0 || seat >= voice->n_seat || background < 0 ||
        background >= voice->n_background)
        return NAN;
    double noise[GRADIN_N_SPEECH_BAND];
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        int band = band_of(i);
        noise[i] = energy(band_db[band]) / gradin_third_width_hz(band);
    }
    return sii_with(voice, background, seat, noise);
}

/* own[k][speech band]: 10^(L/10) of spectrum levels; silence is 0. */
static void fill_own(const gradin_background *background, int n_background,
                     double own[][GRADIN_N_SPEECH_BAND]) {
    double level_db[GRADIN_N_BAND];
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) own[0][i] = 0.0;
    for (int k = 0; k < n_background; k++) {
        gradin_background_levels(&background[k], level_db);
        for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++)
            own[k][i] = gradin_background_density(level_db[band_of(i)], band_of(i));
    }
}

static gradin_status alloc_voice(gradin_arena *arena, gradin_voice *voice, gradin_error *error) {
    size_t n = (size_t)voice->n_seat, n_each = n * (size_t)voice->n_background;
    voice->useful_db = gradin_arena_alloc(arena, n * GRADIN_N_SPEECH_BAND, sizeof(double));
    voice->masking = gradin_arena_alloc(arena, n_each * GRADIN_N_SPEECH_BAND, sizeof(double));
    voice->sii = gradin_arena_alloc(arena, n_each, sizeof(double));
    if (voice->useful_db && voice->masking && voice->sii) return GRADIN_OK;
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

gradin_status gradin_voice_make(gradin_arena *arena, const gradin_model *model,
                                gradin_effort effort, const gradin_background *background,
                                int n_background, gradin_voice *voice, gradin_error *error) {
    gradin_room_field field;
    if (NEEDS(error, arena, voice) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (model->n_focus < 1 || (int)effort < 0 || effort >= GRADIN_N_EFFORT)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a voice needs a focus area");
    if (n_background < 0 || n_background > GRADIN_MAX_BACKGROUND || (n_background && !background))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a voice takes 0 to %d backgrounds",
                                GRADIN_MAX_BACKGROUND);
    gradin_status status = gradin_room_field_make(model, GRADIN_SHADES_AS_SET, &field, error);
    if (status != GRADIN_OK) return status;
    *voice = (gradin_voice){.effort = effort,
                            .n_seat = model->seats.n_seat,
                            .n_background = n_background ? n_background : 1,
                            .mouth_m = mouth_of(model)};
    double own[GRADIN_MAX_BACKGROUND][GRADIN_N_SPEECH_BAND];
    fill_own(background, n_background, own);
    status = alloc_voice(arena, voice, error);
    for (int seat = 0; status == GRADIN_OK && seat < voice->n_seat; seat++) {
        reach_seat(model, &field, own, seat, voice);
        for (int k = 0; k < voice->n_background; k++)
            voice->sii[(size_t)k * (size_t)voice->n_seat + (size_t)seat] =
                sii_with(voice, k, seat, NULL);
    }
    return status;
}
