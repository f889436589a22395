/* gradin changeover FROM TO, and gradin changeover --matrix LAYOUT...: plan, then write. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/render.h"
#include "gradin/table.h"

typedef struct changeover_options {
    const char *out_dir;
    double gap_h, margin_h; /* 0 when not asked */
    bool is_matrix, is_json, is_quiet;
} changeover_options;

static int seconds(double hours) {
    return (int)ceil(hours * 3600.0 - 1e-6);
}

static int gap_s(const changeover_options *o) {
    return seconds(o->gap_h);
}

static int margin_s(const changeover_options *o) {
    return seconds(o->margin_h);
}

static gradin_status make_outputs(gradin_arena *arena, const gradin_changeover *c,
                                  const changeover_options *o, result_file out[3],
                                  gradin_error *error) {
    char *csv, *json;
    unsigned char *png;
    gradin_status status = gradin_changeover_csv(arena, c, &csv, &out[0].size, error);
    if (status == GRADIN_OK)
        status =
            gradin_changeover_json(arena, c, gap_s(o), margin_s(o), &json, &out[1].size, error);
    if (status == GRADIN_OK) status = gradin_changeover_png(arena, c, &png, &out[2].size, error);
    if (status != GRADIN_OK) return status;
    out[0].name = "moves.csv", out[0].bytes = csv;
    out[1].name = "changeover.json", out[1].bytes = json;
    out[2].name = "moves.png", out[2].bytes = png;
    return GRADIN_OK;
}

static int write_files(const changeover_options *o, gradin_arena *arena, const gradin_changeover *c,
                       gradin_error *error) {
    result_file out[3];
    gradin_status status = make_outputs(arena, c, o, out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    return report(write_results(o->out_dir, out, 3, arena, error), error);
}

static int print_plan(const changeover_options *o, gradin_arena *arena, const gradin_changeover *c,
                      gradin_error *error) {
    char *text;
    size_t size;
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    gradin_status status =
        o->is_json ? gradin_changeover_json(arena, c, gap_s(o), margin_s(o), &text, &size, error)
                   : gradin_changeover_text(arena, c, gap_s(o), margin_s(o), &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int plan_one(const changeover_options *o, const char *const *file, gradin_arena *arena,
                    gradin_error *error) {
    gradin_model model[2];
    gradin_changeover c;
    gradin_status status = gradin_models_read(arena, file, 2, model, error);
    if (status == GRADIN_OK)
        status = gradin_changeover_plan(arena, &model[0], &model[1], &c, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = o->out_dir ? write_files(o, arena, &c, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_plan(o, arena, &c, error);
    bool is_over = gap_s(o) > 0 && c.total_s > gap_s(o) - margin_s(o);
    if (result == EXIT_DONE && is_over) result = EXIT_LIMIT;
    return result;
}

static gradin_status plan_all(const char *const *file, int n, gradin_arena *arena,
                              gradin_model *model, gradin_changeover *c, gradin_error *error) {
    gradin_status status = gradin_models_read(arena, file, n, model, error);
    for (int i = 0; i < n * n && status == GRADIN_OK; i++)
        status = gradin_changeover_plan(arena, &model[i / n], &model[i % n], &c[i], error);
    return status;
}

static int plan_matrix(const changeover_options *o, const char *const *file, int n,
                       gradin_arena *arena, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, (size_t)n, sizeof *model);
    gradin_changeover *c = gradin_arena_alloc(arena, (size_t)n * (size_t)n, sizeof *c);
    char *text = NULL;
    size_t size;
    if (!model || !c) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    gradin_status status = plan_all(file, n, arena, model, c, error);
    if (status == GRADIN_OK)
        status = o->is_json ? gradin_matrix_json(arena, c, n, &text, &size, error)
                            : gradin_matrix_text(arena, c, n, &text, error);
    if (status != GRADIN_OK) return report(status, error);
    return o->is_quiet && !o->is_json ? EXIT_DONE : print_out(text);
}

static int changeover(const void *options, const operands *given, gradin_arena *arena,
                      gradin_error *error) {
    const changeover_options *o = options;
    return o->is_matrix ? plan_matrix(o, given->text, given->n, arena, error)
                        : plan_one(o, given->text, arena, error);
}

enum { PAIR, MATRIX };
static const usage_form usages[] = {
    [PAIR] = {.need = "two layouts are needed",
              .operand = {{"FROM", OPERAND_YAML, 1, 1}, {"TO", OPERAND_YAML, 1, 1}}},
    [MATRIX] = {.selector = "--matrix",
                .need = "--matrix takes 2 to 7 layouts",
                .operand = {{"LAYOUT", OPERAND_YAML, 2, 7}}}};

static const option_form options[] = {
    {.name = "--gap",
     .value = "HOURS",
     AS_NUMBER(changeover_options, gap_h),
     .unit = "hours",
     .least = 0,
     .is_above_least = true,
     .most = 1000,
     .usages = 1u << PAIR,
     .meaning = "time between two shows, into which the plan must fit"},
    {.name = "--margin",
     .value = "HOURS",
     AS_NUMBER(changeover_options, margin_h),
     .unit = "hours",
     .least = 0,
     .most = 1000,
     .usages = 1u << PAIR,
     .meaning = "of the gap to keep for breaks, faults and learning"},
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(changeover_options, out_dir),
     .usages = 1u << PAIR,
     .meaning = "folder for moves.csv, changeover.json and moves.png, made when it is not there"},
    {.name = "--matrix",
     AS_FLAG(changeover_options, is_matrix),
     .usages = 1u << MATRIX,
     .meaning = "print the hours from each of 2 to 7 layouts to each other"},
    JSON_OPTION(changeover_options, is_json),
    QUIET_OPTION(changeover_options, is_quiet)};

static const example_form examples[] = {
    {"gradin changeover thrust.yaml flat_floor.yaml --gap 5", "does it fit between two shows?"},
    {"gradin changeover --matrix end_stage.yaml thrust.yaml round.yaml", "each way, in hours"}};

const verb_form changeover_verb = {
    .name = "changeover",
    .summary = "plan the moves between two layouts, and their hours",
    .description =
        "Lists what has to move from one layout to the other (machines, seats, loose rails), who "
        "waits for whom, and when each move starts and ends with the venue's crew, power and "
        "store lift. The total is proven least, or stands beside a bound under which no plan can "
        "be. Times are the sum of stated rates: they hold no break, no fault and no "
        "learning.\n\n"
        "Nobody stands under or on moving machinery. Trained operators follow the maker's "
        "procedure.",
    .limit = "the plan does not fit into --gap, or leaves less than --margin of it",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(changeover_options),
    .run = changeover};
