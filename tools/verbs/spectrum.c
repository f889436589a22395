/* gradin spectrum FILE or BAND=LEVEL...: spectra of steady noise, rated. */
#include "command.h"
#include "gradin/acoustics/noise_rating.h"
#include "gradin/files.h"
#include "gradin/table.h"

#include <string.h>

typedef struct spectrum_options {
    const char *speech;
    int effort;
    bool is_json, is_quiet;
} spectrum_options;

static gradin_status read_speech(const char *path, gradin_arena *arena,
                                 const gradin_spectrum **speech, gradin_error *error) {
    gradin_spectra read;
    *speech = NULL;
    if (!path) return GRADIN_OK;
    gradin_status status = gradin_spectra_read(arena, path, &read, error);
    if (status != GRADIN_OK) return status;
    if (read.n_spectrum != 1)
        return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                "--speech: %s has %d spectra; one is needed", path,
                                read.n_spectrum);
    *speech = read.spectrum;
    return GRADIN_OK;
}

static gradin_status read_noise(const operands *given, gradin_arena *arena, gradin_spectra *spectra,
                                gradin_error *error) {
    bool is_file = given->n == 1 && !strchr(given->text[0], '=');
    return is_file ? gradin_spectra_read(arena, given->text[0], spectra, error)
                   : gradin_spectrum_take(arena, given->text, given->n, spectra, error);
}

static gradin_status rate(const spectrum_options *o, const operands *given, gradin_arena *arena,
                          char **text, gradin_error *error) {
    gradin_spectra spectra;
    gradin_spectrum_sheet sheet;
    const gradin_spectrum *speech;
    size_t size;
    gradin_status status = read_noise(given, arena, &spectra, error);
    if (status == GRADIN_OK) status = read_speech(o->speech, arena, &speech, error);
    if (status == GRADIN_OK)
        status =
            gradin_spectra_rate(arena, &spectra, speech, (gradin_effort)o->effort, &sheet, error);
    if (status != GRADIN_OK) return status;
    return o->is_json ? gradin_spectra_json(arena, &sheet, text, &size, error)
                      : gradin_spectra_text(arena, &sheet, text, error);
}

static int spectrum(const void *options, const operands *given, gradin_arena *arena,
                    gradin_error *error) {
    const spectrum_options *o = options;
    char *text;
    gradin_status status = rate(o, given, arena, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    return o->is_quiet && !o->is_json ? EXIT_DONE : print_out(text);
}

static const usage_form usages[] = {
    {.need = "a CSV file of spectra is needed, or bands with their levels, such as 63=47",
     .operand = {{"FILE|BAND=LEVEL", OPERAND_FILE, 1, ANY_NUMBER}}}};

static const char *const effort_words[] = {[GRADIN_EFFORT_NORMAL] = "normal",
                                           [GRADIN_EFFORT_RAISED] = "raised",
                                           [GRADIN_EFFORT_LOUD] = "loud",
                                           [GRADIN_EFFORT_SHOUT] = "shout",
                                           [GRADIN_N_EFFORT] = NULL};

static const option_form options[] = {
    {.name = "--effort",
     .value = "EFFORT",
     AS_CHOICE(spectrum_options, effort),
     .choice = effort_words,
     .preset = GRADIN_EFFORT_NORMAL,
     .is_preset_shown = true,
     .meaning = "of the voice that the speech intelligibility index is for"},
    {.name = "--speech",
     .value = "FILE",
     AS_FILE(spectrum_options, speech),
     .absent = "the standard spectrum 1 m before the talker",
     .meaning = "a CSV file with the spectrum of the speech at the listener, in its place"},
    JSON_OPTION(spectrum_options, is_json),
    QUIET_OPTION(spectrum_options, is_quiet)};

static const example_form examples[] = {
    {"gradin spectrum fan.csv", "the spectra of a file (columns band_hz and one per spectrum)"},
    {"gradin spectrum 63=47 125=36 250=29 500=22 1000=17 2000=14 4000=12 8000=11",
     "one spectrum in octaves"}};

const verb_form spectrum_verb = {
    .name = "spectrum",
    .summary = "rate spectra of steady noise",
    .description =
        "Prints dB(A), NC, NR, the speech interference level and the speech intelligibility index "
        "of each spectrum, with the octave that sets NC and NR. Levels are in dB re 20 "
        "micropascals, in thirds from 12.5 Hz to 20 kHz or in octaves from 16 Hz to 16 kHz: any "
        "run without a hole. Each rating stands where its bands are given.\n\n"
        "The file is CSV: band_hz and then one column of levels per spectrum, one line per band.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(spectrum_options),
    .run = spectrum};
