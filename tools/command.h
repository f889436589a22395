/* tools/command.h: the `gradin` command. It parses, calls the library and writes; only it prints.
 */
#ifndef GRADIN_TOOLS_COMMAND_H
#define GRADIN_TOOLS_COMMAND_H

#include "definition/form.h"
#include "gradin/gradin.h"

/* Exit statuses. */
enum { EXIT_DONE = 0, EXIT_LIMIT = 1, EXIT_INPUT = 2, EXIT_MACHINE = 3 };

/* The verbs, each defined where it is carried out. */
extern const verb_form check_verb, assess_verb, compare_verb, draft_verb, rake_verb, rails_verb,
    changeover_verb, programme_verb, choose_verb, sweep_verb, fit_verb, glazing_verb, spectrum_verb,
    overflight_verb, outlook_verb, view_verb, section_verb, page_verb, listen_verb, report_verb,
    export_verb, help_verb, version_verb;
/* All of them, with what holds for all. */
extern const command_form gradin_command;

/* Options that several verbs have, of the member that takes each. */
#define JSON_OPTION(type, member)                                                                  \
    { .name = "--json", AS_FLAG(type, member), .meaning = "print JSON in place of text" }
#define QUIET_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--quiet", AS_FLAG(type, member),                                                  \
        .meaning = "print nothing but errors, notes and what --json asks for"                      \
    }
#define THREADS_OPTION(type, member)                                                               \
    {                                                                                              \
        .name = "--threads", .value = "N", AS_INTEGER(type, member), .least = 1, .most = 256,      \
        .absent = "all cores",                                                                     \
        .meaning = "threads to compute with; results are the same for any number"                  \
    }
#define CACHE_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--cache", .value = "DIR", AS_FOLDER(type, member),                                \
        .meaning = "keep the sound field of a room by radiosity in this folder, and take it from " \
                   "there when nothing that it depends on has changed"                             \
    }
#define BRIEF_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--brief", .value = "FILE", AS_FILE(type, member),                                 \
        .absent = "the layout's own brief",                                                        \
        .meaning = "brief with the limits for clear, good and fair"                                \
    }
#define SAMPLES_OPTION(type, member, more)                                                         \
    {                                                                                              \
        .name = "--samples", .value = "N", AS_INTEGER(type, member), .least = 16,                  \
        .most = GRADIN_MAX_SAMPLE, .preset = GRADIN_DEFAULT_SAMPLE, .is_preset_shown = true,       \
        .meaning = "rays from each seat to points of the focus areas" more                         \
    }
#define BANDS_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--bands", .value = "LIST", AS_LIST(type, member), .choice = band_words,           \
        .meaning = "more maps, of these bands at the maximum: octaves, or third octaves by their " \
                   "nominal frequency in Hz, divided by commas, such as 100,125"                   \
    }
/* Of studies that want many changeovers. */
#define NODES_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--nodes", .value = "N", AS_INTEGER(type, member), .least = 1000,                  \
        .most = 100000000, .preset = GRADIN_PLAN_NODES_OF_MANY, .is_preset_shown = true,           \
        .meaning = "steps of the search for each changeover; more may shorten or prove a plan"     \
    }
/* gradin_csv_units */
#define UNITS_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--units", .value = "UNITS", AS_CHOICE(type, member), .choice = units_words,       \
        .preset = GRADIN_CSV_SI, .is_preset_shown = true,                                          \
        .meaning = "lengths in the CSV tables: metres and millimetres, or feet and inches"         \
    }
#define NO_MAPS_OPTION(type, member)                                                               \
    { .name = "--no-maps", AS_FLAG(type, member), .meaning = "write no maps" }

#define SCALE_OPTION(type, member)                                                                 \
    {                                                                                              \
        .name = "--scale", .value = "SCALE", AS_CHOICE(type, member), .choice = scale_words,       \
        .preset = GRADIN_MAP_SCALE_FITTED, .is_preset_shown = true,                                \
        .meaning = "colours of the maps of levels and of C: steps about the limit, or the same "   \
                   "for every layout"                                                              \
    }

#define FORMAT_OPTION(type, member) FORMAT_OPTION_OF(type, member, 0)
#define FORMAT_OPTION_OF(type, member, of_usages)                                                  \
    {                                                                                              \
        .name = "--format", .value = "FORMAT", AS_CHOICE(type, member), .choice = format_words,    \
        .preset = GRADIN_PICTURE_PNG, .is_preset_shown = true, .usages = (of_usages),              \
        .meaning = "of the pictures"                                                               \
    }

extern const char *const format_words[]; /* of --format, by gradin_picture; ended by NULL */
extern const char *const format_names[]; /* as a text calls them, by gradin_picture */
extern const char *const scale_words[];  /* of --scale, by gradin_map_scale; ended by NULL */
extern const char *const units_words[];  /* of --units, by gradin_csv_units; ended by NULL */
extern const char *const band_words[];   /* of --bands, ended by NULL */

/* Bands of which maps are wanted: "octaves", nominal mid-bands of third octaves, or both, divided
 * by commas; NULL chooses none. False after a line on stderr. */
bool parse_bands(const char *verb, const char *text, gradin_band_choice *choice);

/* Carries a verb out with the arguments after it. An exit status. */
int run_verb(const verb_form *verb, int n_argument, char **argument);

/* All diagnostics on stderr, one per line. Returns the exit status of the error's family. */
int report(gradin_status status, const gradin_error *error);
/* What is to be known of files that were read, and of a room that could not be kept (NULL: none was
 * to be). --quiet does not silence notes. */
void say_notes(const gradin_model *model, const char *cache_note);
void say_notes_of(const gradin_assessment *assessment);
/* Text to stdout. A reader that has gone, as after `| head`, is no failure. EXIT_MACHINE with a
 * line on stderr when stdout does not take it. */
int print_out(const char *text);
/* Names the maps that are not drawn because all their seats read alike: one per line of text. */
int print_left_out(const char *text);
/* The kind of picture that a file's name asks for by its end: .png, .svg or .pdf. False after a
 * line on stderr for any other. */
bool picture_of_name(const char *verb, const char *name, gradin_picture *format);
/* "moves.svg" of "moves"; NULL when out of memory. */
const char *picture_file(gradin_arena *arena, const char *stem, int format);
/* Ends what was written to stdout by other means, as print_out() does. */
int end_print(void);
/* Makes a folder, or finds it there; an exit status with a line on stderr. */
int make_folder(const char *path);
/* The same for the folder of the results, and takes it for this run, after waiting for
 * another one that writes there. An exit status with a line on stderr. Once per run, before the
 * first file is written. */
int open_results(const char *path);
/* The same, but where another run writes there it is refused. */
int open_results_alone(const char *path);
/* verbs/choose_drafts.c: layouts of the forms that a show allows, drafted into a folder that is
 * there: layout[GRADIN_N_FORM] get their paths. */
struct gradin_show;
gradin_status draft_for_show(gradin_arena *arena, const struct gradin_show *show, const char *venue,
                             const char *dir, const char **layout, int *n, gradin_error *error);
/* assess_files.c: model, assessment and assessed [n], the last pointing into the one before. */
gradin_status assess_files(gradin_arena *arena, const char *const *file, int n, const char *brief,
                           const gradin_assess_options *how, gradin_model *model,
                           gradin_assessment *assessment, const gradin_assessment **assessed,
                           gradin_error *error);

/* One file of a folder of results; without bytes it is left out. */
typedef struct result_file {
    const char *name;
    const void *bytes;
    size_t size;
} result_file;
gradin_status write_results(const char *dir, const result_file *file, int n, gradin_arena *arena,
                            gradin_error *error);
/* Opens the folder, writes and says what was written, all of which has bytes. An exit status. */
int put_results(const char *dir, const result_file *file, int n, bool is_quiet, gradin_arena *arena,
                gradin_error *error);
/* Before a file that its user is meant to edit is written into the opened folder: GRADIN_BAD_INPUT
 * when it is there already and not as an earlier run of the verb left it. */
gradin_status allow_overwriting(const char *name, gradin_error *error);
/* Records what is written up to now, so that it is known even if the run is stopped. */
gradin_status record_so_far(const gradin_arena *read_into, gradin_error *error);
/* What run_verb() does before and after: end_run() records a run that ended with `result`, its
 * inputs those of an arena, in the folder that it opened, if any. An exit status. */
void begin_run(const verb_form *verb, int n_argument, char *const *argument);
int end_run(const gradin_arena *read_into, int result);
/* One line on stderr: "gradin: ...". */
void say(const char *format, ...) __attribute__((format(printf, 1, 2)));

#endif
