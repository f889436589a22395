/* What a recording holds, how to play it at its level, and what to mind. */
#include "base/use.h"
#include "gradin/acoustics/listen_write.h"
#include "studies/shared/complete.h"
#include "table/listen/listen.h"
#include "table/shared/cautions.h"
#include "table/shared/gaps.h"
#include "table/shared/names.h"

enum { INDENT = 2, START = GRADIN_LISTEN_TONE_S + GRADIN_LISTEN_PAUSE_S };

const char *const listen_effort[GRADIN_N_EFFORT] = {
    [GRADIN_EFFORT_NORMAL] = "normal",
    [GRADIN_EFFORT_RAISED] = "raised",
    [GRADIN_EFFORT_LOUD] = "loud",
    [GRADIN_EFFORT_SHOUT] = "shout",
};

void listen_put_levels(table_text *out, const gradin_recording *r, const char *between) {
    table_print(out, "tone of %.0f Hz, 0 to %d s: %.1f dB%s", GRADIN_LISTEN_TONE_HZ,
                GRADIN_LISTEN_TONE_S, GRADIN_LISTEN_TONE_DB, between);
    table_print(out, "full scale: a sine of full amplitude is %.1f dB%s", r->full_scale_db,
                between);
    table_print(out, "overflight, %d to %d s: %s, at most ", START, START + r->n_second,
                table_shade_state_name((int)r->shades));
    table_put_number(out, TABLE_DECIBEL, r->most_dba);
    table_print(out, " dB(A) over a second%s", between);
    if (!r->has_voice) {
        table_put(out, "voice: none");
        return;
    }
    table_print(out, "voice, %s effort: ", listen_effort[r->effort]);
    table_put_number(out, TABLE_DECIBEL, r->voice_dba);
    table_put(out, " dB(A) at the seat, noise in a rhythm of 4 Hz");
}

static void put_paragraph(table_text *out, const char *text) {
    table_put(out, "\n");
    table_put_wrapped(out, text, 0, INDENT);
    table_put(out, "\n");
}

static void put_advice(table_text *out, const gradin_recording *r) {
    put_paragraph(out,
                  "To hear it as loud as at the seat: turn the volume down, play the tone, and "
                  "raise the volume until a sound level meter where the listener's head is "
                  "reads the level of the tone. Then leave the volume alone.");
    put_paragraph(out,
                  "The level of playback matters: quieter or louder than that, it proves nothing. "
                  "Loud sound can hurt hearing for good. Do not turn it up to hear more, take "
                  "headphones off before the tone starts, and keep what is played below the limits "
                  "of your local code on noise.");
    put_paragraph(out,
                  "It is noise that follows the levels of the table beside it, second by second "
                  "and by third octave from 50 Hz to 5 kHz. Tones, direction, echo and the "
                  "hall's own noise are not in it, and loudspeakers may not reach 50 Hz. The "
                  "levels are predictions, with the uncertainty that assess prints.");
    if (r->has_voice)
        put_paragraph(out,
                      "The voice is noise with the standard spectrum of speech (ANSI S3.5) as it "
                      "arrives at the seat, 160 Hz to 8 kHz. It shows how loud a voice is "
                      "beside the overflight, not what is understood: gradin overflight has "
                      "the speech intelligibility index.");
    put_paragraph(out, table_caution[0]);
}

gradin_status gradin_listen_text(gradin_arena *arena, const gradin_recording *recording,
                                 const char *wav_name, char **text, gradin_error *error) {
    if (NEEDS(error, arena, text, wav_name) != GRADIN_OK ||
        recording_complete(recording, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    const gradin_model *model = recording->model;
    table_text out = {.arena = arena};
    table_print(&out, "%s at seat %s of %s, %s\n\n  %s: %d Hz, 24 bits, mono, %d s\n  ",
                model->pass->name ? model->pass->name : "Overflight",
                model->seats.id[recording->seat], model->layout_name, model->venue_name, wav_name,
                GRADIN_LISTEN_RATE_HZ, START + recording->n_second);
    listen_put_levels(&out, recording, "\n  ");
    table_put(&out, "\n");
    table_put_gaps(&out, &recording->gaps);
    if (recording->room_note[0] != '\0') table_print(&out, "  %s\n", recording->room_note);
    put_advice(&out, recording);
    table_fold(&out);
    if (out.failed)
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for the text");
    *text = out.bytes;
    return GRADIN_OK;
}
