/* gradin programme FILE: a layout for each show of a run, and the changeovers between them. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/studies/programme_write.h"

typedef struct programme_options {
    const char *out_dir;
    int n_node;
    bool is_with_more_crew, is_json, is_quiet;
} programme_options;

static gradin_status compute(const programme_options *o, const char *path, gradin_arena *arena,
                             gradin_programme *programme, gradin_programme_plan *plan,
                             gradin_error *error) {
    gradin_status status = gradin_programme_read(arena, path, programme, error);
    if (status != GRADIN_OK) return status;
    gradin_model *model = gradin_arena_alloc(arena, (size_t)programme->n_layout, sizeof *model);
    if (!model) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    status = gradin_models_read(arena, programme->layout_path, programme->n_layout, model, error);
    const gradin_programme_terms terms = {o->is_with_more_crew, o->n_node};
    return status == GRADIN_OK
               ? gradin_programme_plan_make(arena, programme, model, &terms, plan, error)
               : status;
}

static int write_files(const programme_options *o, gradin_arena *arena,
                       const gradin_programme_plan *plan, gradin_error *error) {
    result_file out[3];
    char *csv, *json, *calendar;
    gradin_status status = gradin_programme_csv(arena, plan, &csv, &out[0].size, error);
    if (status == GRADIN_OK)
        status = gradin_programme_json(arena, plan, &json, &out[1].size, error);
    if (status == GRADIN_OK)
        status = gradin_programme_ical(arena, plan, &calendar, &out[2].size, error);
    if (status != GRADIN_OK) return report(status, error);
    out[0].name = "programme.csv", out[0].bytes = csv;
    out[1].name = "programme.json", out[1].bytes = json;
    out[2].name = "programme.ics", out[2].bytes = calendar;
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    return report(write_results(o->out_dir, out, 3, arena, error), error);
}

static int print_plan(const programme_options *o, gradin_arena *arena,
                      const gradin_programme_plan *plan, gradin_error *error) {
    char *text;
    size_t size;
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    gradin_status status = o->is_json ? gradin_programme_json(arena, plan, &text, &size, error)
                                      : gradin_programme_text(arena, plan, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int programme(const void *options, const operands *given, gradin_arena *arena,
                     gradin_error *error) {
    const programme_options *o = options;
    gradin_programme asked;
    gradin_programme_plan plan;
    gradin_status status = compute(o, given->text[0], arena, &asked, &plan, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = o->out_dir ? write_files(o, arena, &plan, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_plan(o, arena, &plan, error);
    return result == EXIT_DONE && plan.n_clash > 0 ? EXIT_LIMIT : result;
}

static const usage_form usages[] = {
    {.need = "one programme is needed", .operand = {{"PROGRAMME", OPERAND_YAML, 1, 1}}}};

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(programme_options, out_dir),
     .meaning = "folder for programme.csv, programme.json and programme.ics, made when it is not "
                "there"},
    {.name = "--one-more",
     AS_FLAG(programme_options, is_with_more_crew),
     .meaning = "plan again with one person more on every changeover, and say what it costs then"},
    NODES_OPTION(programme_options, n_node),
    JSON_OPTION(programme_options, is_json),
    QUIET_OPTION(programme_options, is_quiet)};

static const example_form examples[] = {
    {"gradin programme march.yaml", "which layout for which show"},
    {"gradin programme march.yaml --one-more --out march",
     "the same as a table and a calendar, and what one person more would save"}};

const verb_form programme_verb = {
    .name = "programme",
    .summary = "give each show of a run its layout and changeover",
    .description =
        "Takes the layout of every show so that the fewest needs stay unmet, then the least time "
        "is missing, then the changeovers cost least; no other choice of layouts is better. Each "
        "changeover is as long as `gradin changeover --matrix` plans it, and is worked where the "
        "least of it falls into the night. A margin of each gap stays free.\n\n"
        "Nobody stands under or on moving machinery. Trained operators follow the maker's "
        "procedure. Hours of work are for law and agreement.",
    .limit = "a show lacks seats or places for wheelchairs, or a changeover does not fit",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(programme_options),
    .run = programme};
