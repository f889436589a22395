/* gradin compare A B [C...]: assess each, compare, then write. */
#include "command.h"
#include "gradin/files.h"
#include "progress.h"

#include <omp.h>

typedef struct compare_options {
    const char *out_dir, *brief, *cache;
    int n_sample, n_draw, n_node, n_thread, units, match, format; /* n_thread 0: all cores */
    bool is_without_maps, is_without_changeovers, is_json, is_quiet;
} compare_options;

typedef struct job {
    const compare_options *o;
    const char *const *file; /* [n] */
    int n;
    gradin_model *model;                /* [n] */
    gradin_assessment *assessment;      /* [n] */
    const gradin_assessment **assessed; /* [n] the same, as the comparison takes them */
    gradin_comparison comparison;
} job;

static gradin_status compute(job *j, gradin_arena *arena, gradin_error *error) {
    gradin_compare_options how = {.by = (gradin_match_by)j->o->match,
                                  .is_without_changeovers = j->o->is_without_changeovers,
                                  .n_node = j->o->n_node};
    const compare_options *o = j->o;
    const gradin_assess_options seen = {.sight = {.n_sample = o->n_sample, .n_draw = o->n_draw},
                                        .room_cache = o->cache};
    gradin_status status = assess_files(arena, j->file, j->n, o->brief, &seen, j->model,
                                        j->assessment, j->assessed, error);
    if (status != GRADIN_OK) return status;
    progress_step("compare");
    return gradin_compare(arena, j->assessed, j->n, &how, &j->comparison, error);
}

static int write_all(const job *j, gradin_arena *arena, gradin_error *error) {
    char line[1200], *left_out = "";
    int n_map = 0, result = open_results(j->o->out_dir);
    if (result != EXIT_DONE) return result;
    gradin_status status = gradin_compare_tables_write(
        &j->comparison, (gradin_csv_units)j->o->units, j->o->out_dir, error);
    progress_step("maps");
    if (status == GRADIN_OK && !j->o->is_without_maps)
        status = gradin_compare_maps_write(&j->comparison, (gradin_picture)j->o->format,
                                           j->o->out_dir, &n_map, error);
    if (status != GRADIN_OK) return report(status, error);
    if (j->o->is_quiet || j->o->is_json) return EXIT_DONE;
    snprintf(line, sizeof line, "\nwritten to %s: compare.csv, compare.json, %d maps (%s)\n",
             j->o->out_dir, n_map, format_names[j->o->format]);
    result = print_out(line);
    if (result != EXIT_DONE || j->o->is_without_maps) return result;
    status = gradin_compare_maps_left_out(arena, &j->comparison, &left_out, error);
    return status == GRADIN_OK ? print_left_out(left_out) : report(status, error);
}

static int print_comparison(const job *j, gradin_arena *arena, gradin_error *error) {
    char *text;
    size_t size;
    if (j->o->is_quiet && !j->o->is_json) return EXIT_DONE;
    gradin_status status = j->o->is_json
                               ? gradin_compare_json(arena, &j->comparison, &text, &size, error)
                               : gradin_compare_text(arena, &j->comparison, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static void print_notes(const job *j) {
    for (int i = 0; i < j->n; i++) say_notes_of(&j->assessment[i]);
}

static int compare(const void *options, const operands *given, gradin_arena *arena,
                   gradin_error *error) {
    size_t n = (size_t)given->n;
    job j = {.o = options, .file = given->text, .n = given->n};
    j.model = gradin_arena_alloc(arena, n, sizeof *j.model);
    j.assessment = gradin_arena_alloc(arena, n, sizeof *j.assessment);
    j.assessed = gradin_arena_alloc(arena, n, sizeof *j.assessed);
    if (!j.model || !j.assessment || !j.assessed) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    if (j.o->n_thread > 0) omp_set_num_threads(j.o->n_thread);
    gradin_status status = compute(&j, arena, error);
    if (status != GRADIN_OK) return report(status, error);
    print_notes(&j);
    int result = print_comparison(&j, arena, error);
    return result == EXIT_DONE && j.o->out_dir ? write_all(&j, arena, error) : result;
}

static const usage_form usages[] = {
    {.need = "two to six layouts are needed", .operand = {{"LAYOUT", OPERAND_YAML, 2, 6}}}};
_Static_assert(GRADIN_MAX_COMPARED == 6, "the most layouts that the usage names");

static const char *const match_words[] = {[GRADIN_MATCH_NAME] = "name",
                                          [GRADIN_MATCH_PLACE] = "place",
                                          [GRADIN_MATCH_MIRROR] = "mirror",
                                          NULL};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(compare_options, out_dir),
     .meaning = "folder for compare.csv, compare.json and the maps, made when it is not there"},
    {.name = "--match",
     .value = "RULE",
     AS_CHOICE(compare_options, match),
     .choice = match_words,
     .preset = GRADIN_MATCH_NAME,
     .is_preset_shown = true,
     .meaning = "how seats find each other: by block, row and seat, and those left by their place; "
                "by their place alone; or by the place mirrored across the hall's axis"},
    BRIEF_OPTION(compare_options, brief),
    SAMPLES_OPTION(compare_options, n_sample, "; with more of them smaller differences are told"),
    {.name = "--draws",
     .value = "N",
     AS_INTEGER(compare_options, n_draw),
     .least = 1,
     .most = GRADIN_MAX_DRAW,
     .absent = "none",
     .meaning = "audiences to draw, the same for all layouts"},
    {.name = "--no-changeovers",
     AS_FLAG(compare_options, is_without_changeovers),
     .meaning = "plan no changeover between the layouts"},
    NODES_OPTION(compare_options, n_node),
    THREADS_OPTION(compare_options, n_thread),
    UNITS_OPTION(compare_options, units),
    FORMAT_OPTION(compare_options, format),
    NO_MAPS_OPTION(compare_options, is_without_maps),
    CACHE_OPTION(compare_options, cache),
    JSON_OPTION(compare_options, is_json),
    QUIET_OPTION(compare_options, is_quiet)};

static const example_form examples[] = {
    {"gradin compare thrust.yaml round.yaml --out compared",
     "who gains and who loses, with maps of what changes"},
    {"gradin compare thrust.yaml end_stage.yaml round.yaml --brief brief.yaml",
     "three layouts rated by one brief"}};

const verb_form compare_verb = {
    .name = "compare",
    .summary = "put layouts beside each other, seat by seat",
    .description =
        "Assesses each layout and says what changes from the first to each other one: seats, "
        "wheelchair places, classes of rating and which figure moved them, the level of the "
        "overflight, and the changeover both ways. A difference that the figures cannot tell from "
        "none is called no difference: samples and draws have an error, and of two predicted "
        "levels only what they do not share is uncertain between them.\n\n"
        "Seats are matched by block, row and seat, then by their place on plan. A layout that "
        "mirrors the first is noticed.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(compare_options),
    .run = compare};
