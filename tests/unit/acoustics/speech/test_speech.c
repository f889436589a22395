/* Speech intelligibility index and the voice at the seats. */
#include <criterion/criterion.h>

#include "gradin/acoustics/speech.h"
#include "support/reference.h"
#include "unit/acoustics/chamber.h"

static void standard(gradin_effort effort, double shift_db, double *out) {
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++)
        out[i] = gradin_speech_level_db(effort, i) + shift_db;
}

/* ANSI S3.5-1997 Table 3 prints the overall levels of reference/ansi-s3-5; its spectra sum
 * to 62.34, 68.26, 74.85 and 82.34 dB with the bandwidths of base-10 thirds. */
Test(speech, overall_levels) {
    static const char *const efforts[GRADIN_N_EFFORT] = {"normal", "raised", "loud", "shout"};
    reference table;
    reference_read("ansi-s3-5/overall.csv", &table);
    cr_assert_eq(table.n_row, GRADIN_N_EFFORT);
    for (int e = 0; e < GRADIN_N_EFFORT; e++) {
        int row = reference_row(&table, efforts[e]);
        double printed_db = reference_number(&table, row, "overall_db");
        double sum = 0.0;
        for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++)
            sum += pow(10.0, 0.1 * gradin_speech_level_db((gradin_effort)e, i)) * 1000.0 *
                   pow(10.0, 0.1 * (i - 8)) * (pow(10.0, 0.05) - pow(10.0, -0.05));
        cr_assert(fabs(10.0 * log10(sum) - printed_db) < 0.11, "%d: %.3f", e, 10.0 * log10(sum));
    }
}

/* What arrives within 50 ms of the direct sound helps, the rest masks (the early energy of clarity
 * C50, ISO 3382-1, from memory). In an exponential decay of T seconds the late share is
 * exp(-ln(10^6) 0.05/T) (derived). The diffuse field is the voice's power times 4/R
 * (room/absorption.c); its power is that of the level at 1 m with a directivity index of 3 dB;
 * straight behind the talker it is 7 dB less, and 3 dB less all round when the talker turns about
 * (from memory). */
static void check_seat(const chamber *c, const gradin_voice *voice, const gradin_room_field *field,
                       int seat) {
    gradin_vec3 way = gradin_sub(c->eye_m[seat], voice->mouth_m);
    double r_m = fmax(gradin_norm(way), 1.0), cosine = -way.y / gradin_norm(way); /* faces south */
    double away_db = isnan(c->model.axis_deg) ? 3.0 : 7.0 * (1.0 - cosine) / 2.0;
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
        int band =
            i + 5 < GRADIN_N_BAND ? i + 5 : GRADIN_N_BAND - 1; /* 160 Hz is the sixth third */
        double before = pow(10.0, 0.1 * gradin_speech_level_db(GRADIN_EFFORT_NORMAL, i));
        double direct = before * pow(10.0, -0.1 * away_db) / (r_m * r_m);
        double room =
            before * 4.0 * GRADIN_PI * pow(10.0, -0.3) * field->reverberant_1m2[0][0][band];
        double late = exp(-log(1e6) * 0.05 / field->reverberation_s[0][band]);
        size_t at = (size_t)seat * GRADIN_N_SPEECH_BAND + (size_t)i;
        double useful_db = 10.0 * log10(direct + room * (1.0 - late));
        cr_assert(fabs(voice->useful_db[at] - useful_db) < 0.01, "seat %d, band %d: %.3f, not %.3f",
                  seat, i, voice->useful_db[at], useful_db);
        cr_assert(fabs(voice->masking[at] / (room * late) - 1.0) < 2e-3, "seat %d, band %d", seat,
                  i);
    }
}

Test(speech, what_comes_within_50_ms_helps) {
    static const double axes_deg[2] = {180.0, NAN};
    gradin_vec2 corner_m[4] = {{3, 4}, {5, 4}, {5, 5}, {3, 5}};
    gradin_focus focus = {.polygon = {corner_m, 4}, .z_m = 0.0, .weight = 1.0};
    for (int k = 0; k < 2; k++) {
        chamber c;
        gradin_voice voice;
        gradin_room_field field;
        chamber_make(&c, 8.0, 6.0, 4.0, 0.2);
        c.model.focus = &focus;
        c.model.n_focus = 1;
        c.model.axis_deg = axes_deg[k];
        gradin_arena *arena = gradin_arena_create();
        cr_assert(gradin_voice_make(arena, &c.model, GRADIN_EFFORT_NORMAL, NULL, 0, &voice, NULL) ==
                  GRADIN_OK);
        cr_assert(gradin_room_field_make(&c.model, GRADIN_SHADES_AS_SET, &field, NULL) ==
                  GRADIN_OK);
        for (int s = 0; s < CHAMBER_SEATS; s++) check_seat(&c, &voice, &field, s);
        gradin_arena_destroy(arena);
    }
}

/* The importance sums to 1: standard speech in quiet is heard whole, and nothing is left under
 * noise 15 dB above it (clause 5.8: K = (E - D + 15)/30, derived). */
Test(speech, ends_of_the_scale) {
    double speech[GRADIN_N_SPEECH_BAND], noise[GRADIN_N_SPEECH_BAND];
    standard(GRADIN_EFFORT_NORMAL, 0.0, speech);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) noise[i] = -INFINITY;
    cr_assert(gradin_sii(speech, noise) > 0.98 && gradin_sii(speech, noise) <= 1.0 + 1e-12, "%.4f",
              gradin_sii(speech, noise));
    standard(GRADIN_EFFORT_NORMAL, 15.01, noise);
    cr_assert(gradin_sii(speech, noise) == 0.0);
    standard(GRADIN_EFFORT_NORMAL, -200.0, speech);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) noise[i] = -INFINITY;
    cr_assert(gradin_sii(speech, noise) == 0.0, "below the threshold of hearing");
}

/* Noise parallel to the speech, s dB below: at most (s + 15)/30 of it is audible, a little less by
 * the upward spread of masking. It falls as the noise rises. */
Test(speech, signal_to_noise) {
    double speech[GRADIN_N_SPEECH_BAND], noise[GRADIN_N_SPEECH_BAND], before = 1.0;
    standard(GRADIN_EFFORT_NORMAL, 0.0, speech);
    for (int s = 12; s >= -12; s -= 3) {
        standard(GRADIN_EFFORT_NORMAL, -s, noise);
        double sii = gradin_sii(speech, noise), most = (s + 15) / 30.0;
        cr_assert(sii <= most + 1e-12 && sii > most - 0.1, "%d dB: %.4f, at most %.4f", s, sii,
                  most);
        cr_assert(sii < before);
        before = sii;
    }
}

/* Masking spreads upwards: Annex C.2 prints it at two bands (reference/ansi-s3-5/masking.csv).
 * Speech of 5 dB above it is audible by 20/30 of the band's importance; without speech there, by
 * none. */
Test(speech, noise_masks_the_bands_above) {
    reference table;
    reference_read("ansi-s3-5/masking.csv", &table);
    for (int row = 0; row < table.n_row; row++) {
        double speech[GRADIN_N_SPEECH_BAND], noise[GRADIN_N_SPEECH_BAND];
        double masking_db = reference_number(&table, row, "masking_db");
        for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) {
            speech[i] = 54.0;
            noise[i] = i < 3 ? 40.0 - 10.0 * i : 0.0;
        }
        cr_assert_eq(noise[row + 1], reference_number(&table, row, "noise_db"));
        speech[row + 1] = masking_db + 5.0;
        double heard = gradin_sii(speech, noise);
        speech[row + 1] = -50.0;
        double part =
            (heard - gradin_sii(speech, noise)) / reference_number(&table, row, "importance");
        cr_expect_float_eq(part, 20.0 / 30.0, 0.01 / 30.0, "%.5f", part);
    }
}

/* Level distortion: 20 dB above normal costs (20 - 10)/160 = 1/16 (clause 5.7, derived). */
Test(speech, too_loud) {
    double speech[GRADIN_N_SPEECH_BAND], noise[GRADIN_N_SPEECH_BAND];
    standard(GRADIN_EFFORT_NORMAL, 0.0, speech);
    for (int i = 0; i < GRADIN_N_SPEECH_BAND; i++) noise[i] = -INFINITY;
    double normal = gradin_sii(speech, noise);
    standard(GRADIN_EFFORT_NORMAL, 20.0, speech);
    cr_assert(fabs(gradin_sii(speech, noise) / normal - 15.0 / 16.0) < 0.01);
}

Test(speech, voice_at_the_seats) {
    chamber c;
    gradin_voice voice, louder;
    gradin_vec2 corner_m[4] = {{3, 4}, {5, 4}, {5, 5}, {3, 5}};
    gradin_focus focus = {.polygon = {corner_m, 4}, .z_m = 0.0, .weight = 1.0};
    chamber_make(&c, 8.0, 6.0, 4.0, 0.99);
    c.model.focus = &focus;
    c.model.n_focus = 1;
    c.model.axis_deg = 180.0;
    gradin_arena *arena = gradin_arena_create();
    cr_assert(gradin_voice_make(arena, &c.model, GRADIN_EFFORT_NORMAL, NULL, 0, &voice, NULL) ==
              GRADIN_OK);
    cr_assert(gradin_voice_make(arena, &c.model, GRADIN_EFFORT_LOUD, NULL, 0, &louder, NULL) ==
              GRADIN_OK);
    cr_assert(fabs(voice.mouth_m.y - 4.5) < 1e-9 && fabs(voice.mouth_m.z - 1.5) < 1e-9);
    /* little room: direct sound of the first seat, 20 lg r and the turn away, and what the pane,
     * the one thing that does not absorb all, leaves of the field at 630 Hz, all of it early */
    gradin_room_field field;
    cr_assert(gradin_room_field_make(&c.model, GRADIN_SHADES_AS_SET, &field, NULL) == GRADIN_OK);
    double room =
        pow(10.0, 3.206) * 4.0 * GRADIN_PI * pow(10.0, -0.3) * field.reverberant_1m2[0][0][11];
    gradin_vec3 way = gradin_sub(c.eye_m[0], voice.mouth_m);
    double r_m = gradin_norm(way), cosine = -way.y / r_m;
    double wanted = 32.06 - 20.0 * log10(r_m) - 3.5 * (1.0 - cosine);
    wanted = 10.0 * log10(pow(10.0, 0.1 * wanted) + room);
    cr_assert(fabs(voice.useful_db[6] - wanted) < 0.1, "%.3f, not %.3f", voice.useful_db[6],
              wanted);
    double quiet[GRADIN_N_BAND], loud[GRADIN_N_BAND];
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        quiet[b] = -100.0;
        loud[b] = 60.0;
    }
    for (int s = 0; s < CHAMBER_SEATS; s++) {
        cr_assert(fabs(gradin_voice_sii(&voice, 0, s, quiet) - voice.sii[s]) < 1e-6);
        cr_assert(gradin_voice_sii(&voice, 0, s, loud) < 0.5 * voice.sii[s]);
        cr_assert(gradin_voice_sii(&louder, 0, s, loud) > gradin_voice_sii(&voice, 0, s, loud));
    }
    cr_assert(voice.sii[0] > 0.9, "a dead room near the talker: %.3f", voice.sii[0]);
    gradin_voice noisy;
    gradin_background own[2] = {{.name = "high", .nc = 40.0}, {.name = "higher", .nc = 45.0}};
    cr_assert(gradin_voice_make(arena, &c.model, GRADIN_EFFORT_NORMAL, own, 2, &noisy, NULL) ==
              GRADIN_OK);
    for (int s = 0; s < CHAMBER_SEATS; s++) {
        cr_assert(noisy.sii[s] < voice.sii[s] - 0.1);
        cr_assert(noisy.sii[CHAMBER_SEATS + s] < noisy.sii[s]);
        cr_assert_eq(gradin_voice_sii(&noisy, 1, s, quiet) < noisy.sii[s], true);
    }
    cr_assert(isnan(gradin_voice_sii(&noisy, 2, 0, quiet)));
    /* 500 Hz: NC 40 has 44 dB, NC 45 49 dB, in an octave 354 Hz wide (published curves): 18.5 and
     * 23.5 dB per hertz */
    for (int k = 0; k < 2; k++) {
        double added = noisy.masking[k * CHAMBER_SEATS * GRADIN_N_SPEECH_BAND + 5];
        double found_db = 10.0 * log10(added - voice.masking[5]);
        cr_assert(fabs(found_db - (k ? 23.51 : 18.51)) < 0.05, "%.3f", found_db);
    }
    gradin_arena_destroy(arena);
}

/* Thirds of an octave sum to it, and stand as 10 lg of their widths: 10^0.1 from one to the next,
 * so 1.0 dB (IEC 61260-1). The A weight of 1 kHz is 0 dB (IEC 61672-1). */
Test(speech, own_noise_by_thirds) {
    double level_db[GRADIN_N_BAND], back_db[GRADIN_N_OCTAVE];
    gradin_background own = {.name = "own", .is_octave = true};
    for (int b = 0; b < GRADIN_N_BAND; b++)
        own.level_db[b] = 50.0 - 4.0 * (b / 3) - 10.0 * log10(3.0);
    gradin_background_levels(&own, level_db);
    gradin_octaves_db(level_db, back_db);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) {
        cr_expect_float_eq(back_db[o], 50.0 - 4.0 * o, 0.01, "%d: %.3f", o, back_db[o]);
        cr_expect_float_eq(level_db[3 * o + 1] - level_db[3 * o], 1.0, 1e-9);
        cr_expect_float_eq(level_db[3 * o + 2] - level_db[3 * o + 1], 1.0, 1e-9);
    }
    own.is_octave = false;
    gradin_background_levels(&own, level_db);
    cr_expect_eq(level_db[3], own.level_db[3], "thirds stay as stated");
    for (int b = 0; b < GRADIN_N_BAND; b++) own.level_db[b] = b == 13 ? 60.0 : -100.0;
    cr_expect_float_eq(gradin_background_dba(&own), 60.0, 1e-6);
}
