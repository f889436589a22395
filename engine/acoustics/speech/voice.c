/* An unamplified voice from the stage at every seat.
 *
 * Direct sound of the standard spectrum at 1 m by spherical spreading, turned away from the stage's
 * axis by (1) 7 (1 - cos theta)/2 dB (about 3.5 beside and 7 behind the talker, from memory);
 * without an axis the talker turns about and 3 dB less reaches everybody. Power from the level
 * before the mouth with a directivity index of 3 dB (from memory). The room is Eyring's diffuse
 * field by either room method: what arrives within 50 ms helps, (2) 1 - exp(-13.8 * 0.05/T) of it;
 * the rest masks. The two bands above 5 kHz take the room and the noise of 5 kHz. */
#include "acoustics/room/room.h"
#include "base/use.h"
#include "gradin/acoustics/speech.h"
#include "model/complete.h"

enum { FIRST_BAND = 5 }; /* 160 Hz among the 21 */

static const double mouth_above_m = 1.5, least_m = 1.0, early_s = 0.05;
static const double behind_db = 7.0, turning_db = 3.0, directivity_db = 3.0;
static const double third_width = 0.2307; /* of the mid-band: 10^0.05 - 10^-0.05 */

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

/* Spectrum level of the hall's own noise: its octave spread evenly. */
static double own_noise(double nc, int speech_band) {
    if (isnan(nc)) return 0.0;
    int octave = band_of(speech_band) / 3;
    double width_hz = gradin_octave_mid_hz(octave) * (pow(10.0, 0.15) - pow(10.0, -0.15));
    return energy(gradin_nc_level_db(nc, octave)) / width_hz;
}

static void reach_seat(const gradin_model *model, const gradin_room_field *field,
                       double background_nc, int seat, gradin_voice *voice) {
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
        voice->masking[at] = room * late + own_noise(background_nc, i);
    }
}

static double sii_with(const gradin_voice *voice, int seat, const double *noise) {
    double noise_db[GRADIN_N_SPEECH_BAND];
    size_t at = (size_t)seat * GRADIN_N_SPEECH_BAND;
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++)
        noise_db[i] = 10.0 * log10(voice->masking[at + (size_t)i] + (noise ? noise[i] : 0.0));
    return gradin_sii(voice->useful_db + at, noise_db);
}

double gradin_voice_sii(const gradin_voice *voice, int seat, const double *band_db) {
    if (!voice || !band_db || seat < 0 || seat >= voice->n_seat) return NAN;
    double noise[GRADIN_N_SPEECH_BAND];
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        int band = band_of(i);
        noise[i] = energy(band_db[band]) / (third_width * gradin_band_mid_hz(band));
    }
    return sii_with(voice, seat, noise);
}

gradin_status gradin_voice_make(gradin_arena *arena, const gradin_model *model,
                                gradin_effort effort, double background_nc, gradin_voice *voice,
                                gradin_error *error) {
    gradin_room_field field;
    if (NEEDS(error, arena, voice) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (model->n_focus < 1 || (int)effort < 0 || effort >= GRADIN_N_EFFORT)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a voice needs a focus area");
    gradin_status status = gradin_room_field_make(model, GRADIN_SHADES_AS_SET, &field, error);
    if (status != GRADIN_OK) return status;
    size_t n = (size_t)model->seats.n_seat;
    *voice =
        (gradin_voice){.effort = effort, .n_seat = model->seats.n_seat, .mouth_m = mouth_of(model)};
    voice->useful_db = gradin_arena_alloc(arena, n * GRADIN_N_SPEECH_BAND, sizeof(double));
    voice->masking = gradin_arena_alloc(arena, n * GRADIN_N_SPEECH_BAND, sizeof(double));
    voice->sii = gradin_arena_alloc(arena, n, sizeof(double));
    if (!voice->useful_db || !voice->masking || !voice->sii)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    for (int seat = 0; seat < voice->n_seat; seat++) {
        reach_seat(model, &field, background_nc, seat, voice);
        voice->sii[seat] = sii_with(voice, seat, NULL);
    }
    return GRADIN_OK;
}
