/* gradin listen LAYOUT --seat SEAT --out FILE.wav: the overflight at a seat as sound. Nothing is
 * created before all computing has succeeded. */
#include "command.h"
#include "gradin/acoustics/listen_write.h"
#include "gradin/files.h"

#include <string.h>

typedef struct listen_options {
    const char *seat, *out, *cache;
    int shades, voice, length_s, full_scale_db, noise;
    bool is_json, is_quiet;
} listen_options;

enum { NO_VOICE };

static gradin_status compute(const listen_options *o, const char *file, gradin_arena *arena,
                             gradin_model *model, gradin_recording *recording,
                             gradin_error *error) {
    gradin_listen_options how = {.seat = o->seat,
                                 .shades = (gradin_shade_state)o->shades,
                                 .has_voice = o->voice != NO_VOICE,
                                 .length_s = o->length_s,
                                 .full_scale_db = o->full_scale_db,
                                 .seed = (uint32_t)o->noise,
                                 .cache_folder = o->cache};
    if (how.has_voice) how.effort = (gradin_effort)(o->voice - 1);
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status != GRADIN_OK) return status;
    if (!model->pass)
        return gradin_error_add(error, GRADIN_BAD_INPUT, &(gradin_place){.file = file},
                                "names no overflight; there is nothing to hear");
    return gradin_listen(arena, model, &how, recording, error);
}

static gradin_status tell(const listen_options *o, gradin_arena *arena,
                          const gradin_recording *recording, char **text, gradin_error *error) {
    size_t size;
    const char *slash = strrchr(o->out, '/'), *name = slash ? slash + 1 : o->out;
    return o->is_json ? gradin_listen_json(arena, recording, name, text, &size, error)
                      : gradin_listen_text(arena, recording, name, text, error);
}

static int listen_one(const listen_options *o, const char *file, gradin_arena *arena,
                      gradin_error *error) {
    gradin_model model;
    gradin_recording recording;
    char *text;
    gradin_status status = compute(o, file, arena, &model, &recording, error);
    if (status == GRADIN_OK) status = tell(o, arena, &recording, &text, error);
    if (status == GRADIN_OK) status = gradin_listen_write(&recording, o->out, error);
    if (status != GRADIN_OK) return report(status, error);
    if (recording.cache_note[0] != '\0') say("note: %s", recording.cache_note);
    return o->is_quiet && !o->is_json ? EXIT_DONE : print_out(text);
}

static int run_listen(const void *options, const operands *given, gradin_arena *arena,
                      gradin_error *error) {
    const listen_options *o = options;
    size_t length = strlen(o->out);
    if (length < 5 || strcmp(o->out + length - 4, ".wav") != 0) {
        say("listen: --out is '%s'; the name of a sound file that ends in .wav is needed", o->out);
        return EXIT_INPUT;
    }
    return listen_one(o, given->text[0], arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const char *const shade_words[] = {[GRADIN_SHADES_AS_SET] = "as-set",
                                          [GRADIN_SHADES_OPEN] = "open",
                                          [GRADIN_SHADES_SHUT] = "shut",
                                          [GRADIN_N_SHADE_STATE] = NULL};
static const char *const voice_words[] = {[NO_VOICE] = "none",
                                          [GRADIN_EFFORT_NORMAL + 1] = "normal",
                                          [GRADIN_EFFORT_RAISED + 1] = "raised",
                                          [GRADIN_EFFORT_LOUD + 1] = "loud",
                                          [GRADIN_EFFORT_SHOUT + 1] = "shout",
                                          [GRADIN_N_EFFORT + 1] = NULL};

static const option_form options[] = {
    {.name = "--seat",
     .value = "SEAT",
     AS_TEXT(listen_options, seat),
     .is_required = true,
     .meaning = "the seat, as seats.csv names it"},
    {.name = "--out",
     .value = "FILE.wav",
     AS_FILE(listen_options, out),
     .is_required = true,
     .meaning = "the sound file; its levels go beside it, into FILE.txt and FILE.csv"},
    {.name = "--shades",
     .value = "STATE",
     AS_CHOICE(listen_options, shades),
     .choice = shade_words,
     .preset = GRADIN_SHADES_AS_SET,
     .is_preset_shown = true,
     .meaning = "where the shades stand"},
    {.name = "--voice",
     .value = "EFFORT",
     AS_CHOICE(listen_options, voice),
     .choice = voice_words,
     .preset = NO_VOICE,
     .is_preset_shown = true,
     .meaning = "with noise shaped as a voice on the stage"},
    {.name = "--length",
     .value = "SECONDS",
     AS_INTEGER(listen_options, length_s),
     .unit = "seconds",
     .least = GRADIN_LISTEN_LEAST_S,
     .most = GRADIN_LISTEN_MOST_S,
     .preset = 30,
     .is_preset_shown = true,
     .meaning = "how much of the overflight, about the seat's maximum"},
    {.name = "--full-scale",
     .value = "DB",
     AS_INTEGER(listen_options, full_scale_db),
     .unit = "dB",
     .least = 80,
     .most = 140,
     .preset = 100,
     .is_preset_shown = true,
     .meaning = "level of a sine of full amplitude; keep it for files that are compared"},
    {.name = "--noise",
     .value = "N",
     AS_INTEGER(listen_options, noise),
     .least = 0,
     .most = 1000000,
     .preset = 0,
     .is_preset_shown = true,
     .meaning = "another number gives other noise of the same levels"},
    CACHE_OPTION(listen_options, cache),
    JSON_OPTION(listen_options, is_json),
    QUIET_OPTION(listen_options, is_quiet)};

static const example_form examples[] = {
    {"gradin listen thrust.yaml --seat South-1-1 --out seat.wav", "the overflight at a seat"},
    {"gradin listen thrust.yaml --seat South-1-1 --shades shut --out shut.wav",
     "the same with the shades shut"}};

const verb_form listen_verb = {
    .name = "listen",
    .summary = "make the overflight at a seat audible",
    .description =
        "Writes a sound file (48 kHz, 24 bits, mono): a tone of 70 dB to set the level of playback "
        "by, and then noise that follows the levels of the overflight at the seat, by third "
        "octave. The levels that it follows are written beside it, second by second. A voice is "
        "noise with the standard spectrum of speech, as it arrives from the stage.\n\n"
        "The level of playback matters, and loud sound can hurt hearing: start low, and set the "
        "level by the tone and a sound level meter. Levels are predictions.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(listen_options),
    .run = run_listen};
