/* gradin assess LAYOUT --out DIR: read, compute, then write. Nothing is created before all
 * computing has succeeded. */
#include "command.h"
#include "gradin/files.h"
#include "progress.h"

#include <omp.h>

typedef struct assess_options {
    const char *out_dir, *brief, *cache, *bands;
    int n_sample, n_draw, n_thread, units, scale, format; /* n_thread 0: all cores */
    bool is_without_maps, is_json, is_quiet;
} assess_options;

static int write_all(const assess_options *o, const gradin_assessment *a, int *n_map,
                     gradin_error *error) {
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    gradin_status status = gradin_tables_write(a, (gradin_csv_units)o->units, o->out_dir, error);
    progress_step("maps");
    if (status == GRADIN_OK && !o->is_without_maps)
        status = gradin_maps_write(a, (gradin_map_scale)o->scale, (gradin_picture)o->format,
                                   o->out_dir, n_map, error);
    if (status != GRADIN_OK) return report(status, error);
    return EXIT_DONE;
}

static int print_written(const assess_options *o, gradin_arena *arena, const gradin_assessment *a,
                         int n_map, gradin_error *error) {
    char line[1200], *left_out = "";
    if (o->is_quiet || o->is_json) return EXIT_DONE;
    snprintf(line, sizeof line,
             "\nwritten to %s:\n  seats.csv, seats_short.csv, summary.json, %d maps (%s)\n",
             o->out_dir, n_map, format_names[o->format]);
    int result = print_out(line);
    if (result != EXIT_DONE || o->is_without_maps) return result;
    gradin_status status = gradin_maps_left_out(arena, a, &left_out, error);
    return status == GRADIN_OK ? print_left_out(left_out) : report(status, error);
}

static int print_summary(const assess_options *o, gradin_arena *arena, const gradin_assessment *a,
                         gradin_error *error) {
    char *text;
    size_t size;
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    gradin_status status = o->is_json ? gradin_summary_json(arena, a, &text, &size, error)
                                      : gradin_summary_text(arena, a, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static gradin_status compute(const assess_options *o, const char *file, gradin_band_choice *band,
                             gradin_arena *arena, gradin_model *model, gradin_assessment *a,
                             gradin_error *error) {
    gradin_assess_options how = {.sight = {.n_sample = o->n_sample,
                                           .n_draw = o->n_draw,
                                           .progress = progress_count,
                                           .progress_user = progress_seats},
                                 .room_cache = o->cache};
    gradin_status status = gradin_model_read(arena, file, model, error);
    if (status == GRADIN_OK && o->brief) status = gradin_brief_read(arena, o->brief, model, error);
    if (status == GRADIN_OK) status = gradin_assess(arena, model, &how, a, error);
    if (status == GRADIN_OK && o->bands) status = gradin_assess_bands(arena, a, band, error);
    return status;
}

static int assess_one(const assess_options *o, const char *file, gradin_band_choice *band,
                      gradin_arena *arena, gradin_error *error) {
    gradin_model model;
    gradin_assessment a;
    if (o->n_thread > 0) omp_set_num_threads(o->n_thread);
    gradin_status status = compute(o, file, band, arena, &model, &a, error);
    if (status != GRADIN_OK) return report(status, error);
    say_notes_of(&a);
    int n_map = 0, result = write_all(o, &a, &n_map, error);
    if (result == EXIT_DONE) result = print_summary(o, arena, &a, error);
    return result == EXIT_DONE ? print_written(o, arena, &a, n_map, error) : result;
}

static int assess(const void *options, const operands *given, gradin_arena *arena,
                  gradin_error *error) {
    const assess_options *o = options;
    gradin_band_choice band;
    if (!parse_bands("assess", o->bands, &band)) return EXIT_INPUT;
    return assess_one(o, given->text[0], &band, arena, error);
}

static const usage_form usages[] = {
    {.need = "one layout is needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(assess_options, out_dir),
     .is_required = true,
     .meaning = "folder for seats.csv, seats_short.csv, summary.json and the maps, made when it is "
                "not there"},
    BRIEF_OPTION(assess_options, brief),
    SAMPLES_OPTION(assess_options, n_sample, ""),
    {.name = "--draws",
     .value = "N",
     AS_INTEGER(assess_options, n_draw),
     .least = 1,
     .most = GRADIN_MAX_DRAW,
     .absent = "none",
     .meaning = "audiences to draw from the population, for how often each seat has a clear view"},
    THREADS_OPTION(assess_options, n_thread),
    BANDS_OPTION(assess_options, bands),
    UNITS_OPTION(assess_options, units),
    SCALE_OPTION(assess_options, scale),
    FORMAT_OPTION(assess_options, format),
    NO_MAPS_OPTION(assess_options, is_without_maps),
    CACHE_OPTION(assess_options, cache),
    JSON_OPTION(assess_options, is_json),
    QUIET_OPTION(assess_options, is_quiet)};

static const example_form examples[] = {
    {"gradin assess thrust.yaml --out results", "table, summary and maps of a layout"},
    {"gradin assess thrust.yaml --out drawn --draws 1000 --no-maps",
     "the same with a thousand audiences drawn, tables only"}};

const verb_form assess_verb = {
    .name = "assess",
    .summary = "work out what every seat sees and hears",
    .description =
        "Tests every seat of a layout: the share of the focus areas that it sees and what hides "
        "the rest, its C-value, its angles of view, and where the layout names an overflight the "
        "level of it by band. It writes one line per seat to seats.csv, the columns that a client "
        "reads to seats_short.csv, the totals to "
        "summary.json and a heat map of each quantity, and prints a summary.\n\n"
        "Nothing is written before everything is computed.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(assess_options),
    .run = assess};
