/* gradin changeover FROM TO, and gradin changeover --matrix LAYOUT...: plan, then write. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/render.h"
#include "gradin/table.h"
#include "progress.h"

#include <stdio.h>

typedef struct changeover_options {
    const char *out_dir;
    double gap_h, margin_h; /* 0 when not asked */
    const char *start, *at; /* NULL when not given */
    int from_move, format;  /* gradin_picture */
    int n_node;             /* 0: the usual */
    bool is_matrix, is_json, is_quiet;
} changeover_options;

static int seconds(double hours) {
    return (int)ceil(hours * 3600.0 - 1e-6);
}

enum { MOST_FILES = 5 };

static gradin_status make_texts(gradin_arena *arena, const gradin_changeover *c, result_file *out,
                                int *n, gradin_error *error) {
    char *csv, *json, *calendar;
    gradin_status status = gradin_changeover_csv(arena, c, &csv, &out[0].size, error);
    if (status == GRADIN_OK) status = gradin_changeover_json(arena, c, &json, &out[1].size, error);
    if (status == GRADIN_OK && c->has_start)
        status = gradin_changeover_ical(arena, c, &calendar, &out[2].size, error);
    if (status != GRADIN_OK) return status;
    out[(*n)++].bytes = csv, out[0].name = "moves.csv";
    out[(*n)++].bytes = json, out[1].name = "changeover.json";
    if (c->has_start) out[(*n)++].bytes = calendar, out[2].name = "moves.ics";
    return GRADIN_OK;
}

static gradin_status make_outputs(const changeover_options *o, gradin_arena *arena,
                                  const gradin_changeover *c, result_file out[MOST_FILES], int *n,
                                  gradin_error *error) {
    unsigned char *chart, *pdf;
    gradin_status status = make_texts(arena, c, out, n, error);
    if (status == GRADIN_OK)
        status = gradin_changeover_picture(arena, c, (gradin_picture)o->format, &chart,
                                           &out[*n].size, error);
    if (status != GRADIN_OK) return status;
    out[*n].name = picture_file(arena, "moves", o->format), out[(*n)++].bytes = chart;
    status = gradin_changeover_pdf(arena, c, &pdf, &out[*n].size, error);
    if (status != GRADIN_OK) return status;
    out[*n].name = "cues.pdf", out[(*n)++].bytes = pdf;
    return GRADIN_OK;
}

static int write_files(const changeover_options *o, gradin_arena *arena, const gradin_changeover *c,
                       gradin_error *error) {
    result_file out[MOST_FILES] = {0};
    int n = 0;
    gradin_status status = make_outputs(o, arena, c, out, &n, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = open_results(o->out_dir);
    if (result != EXIT_DONE) return result;
    return report(write_results(o->out_dir, out, n, arena, error), error);
}

static int print_plan(const changeover_options *o, gradin_arena *arena, const gradin_changeover *c,
                      gradin_error *error) {
    char *text;
    size_t size;
    if (o->is_quiet && !o->is_json) return EXIT_DONE;
    gradin_status status = o->is_json ? gradin_changeover_json(arena, c, &text, &size, error)
                                      : gradin_changeover_text(arena, c, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int wrong(const char *option, const char *needed) {
    say("%s needs %s", option, needed);
    return EXIT_INPUT;
}

/* "2:30" from the start on, or a date and time where the start is one. */
static bool parse_at(const changeover_options *o, const gradin_changeover_terms *t, int *at_s) {
    int hours, minutes, n = 0;
    int64_t time_s;
    if (t->has_start && gradin_date_parse(o->at, false, &time_s) && time_s >= t->start_s &&
        time_s - t->start_s < 1000 * 3600) {
        *at_s = (int)(time_s - t->start_s);
        return true;
    }
    bool is_clock = sscanf(o->at, "%3d:%2d%n", &hours, &minutes, &n) == 2 && o->at[n] == '\0' &&
                    o->at[0] >= '0' && o->at[0] <= '9' && n >= 4 && o->at[n - 3] == ':' &&
                    o->at[n - 2] >= '0' && minutes <= 59;
    if (is_clock) *at_s = hours * 3600 + minutes * 60;
    return is_clock;
}

static int read_terms(const changeover_options *o, gradin_changeover_terms *t) {
    *t = (gradin_changeover_terms){.has_start = o->start != NULL,
                                   .gap_s = seconds(o->gap_h),
                                   .margin_s = seconds(o->margin_h),
                                   .from_move = o->from_move,
                                   .n_node = o->n_node,
                                   .progress = progress_percent,
                                   .is_drawn = true};
    if (o->start && !gradin_date_parse(o->start, false, &t->start_s))
        return wrong("--start", "a date and time such as 2027-03-04T22:30");
    if ((o->from_move > 0) != (o->at != NULL))
        return wrong(o->at ? "--at" : "--from-move", o->at ? "--from-move" : "--at");
    if (o->at && !parse_at(o, t, &t->at_s))
        return wrong("--at",
                     "hours and minutes since the start such as 2:30, or, beside --start, a "
                     "date and time after it");
    return EXIT_DONE;
}

static int plan_one(const changeover_options *o, const char *const *file, gradin_arena *arena,
                    gradin_error *error) {
    gradin_model model[2];
    gradin_changeover c;
    gradin_changeover_terms terms;
    int result = read_terms(o, &terms);
    if (result != EXIT_DONE) return result;
    progress_step("plan 1 of 1");
    gradin_status status = gradin_models_read(arena, file, 2, model, error);
    if (status == GRADIN_OK)
        status = gradin_changeover_plan_on(arena, &model[0], &model[1], &terms, &c, error);
    if (status != GRADIN_OK) return report(status, error);
    result = o->out_dir ? write_files(o, arena, &c, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_plan(o, arena, &c, error);
    if (result == EXIT_DONE && c.gap_s > 0 && !c.keeps_gap) result = EXIT_LIMIT;
    return result;
}

static gradin_status plan_all(const char *const *file, int n, gradin_arena *arena,
                              const gradin_changeover_terms *terms, gradin_model *model,
                              gradin_changeover *c, gradin_error *error) {
    gradin_status status = gradin_models_read(arena, file, n, model, error);
    for (int i = 0; i < n * n && status == GRADIN_OK; i++) {
        const gradin_model *from = &model[i / n], *to = &model[i % n];
        progress_step("plan %d of %d", i + 1, n * n);
        status = gradin_changeover_plan_on(arena, from, to, terms, &c[i], error);
    }
    return status;
}

static int plan_matrix(const changeover_options *o, const char *const *file, int n,
                       gradin_arena *arena, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, (size_t)n, sizeof *model);
    gradin_changeover *c = gradin_arena_alloc(arena, (size_t)n * (size_t)n, sizeof *c);
    gradin_changeover_terms terms;
    char *text = NULL;
    size_t size;
    int result = read_terms(o, &terms);
    if (result != EXIT_DONE) return result;
    terms.is_drawn = false;
    if (terms.n_node == 0) terms.n_node = GRADIN_PLAN_NODES_OF_MANY;
    if (!model || !c) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    gradin_status status = plan_all(file, n, arena, &terms, model, c, error);
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
    {.name = "--start",
     .value = "TIME",
     AS_TEXT(changeover_options, start),
     .usages = 1u << PAIR | 1u << MATRIX,
     .meaning = "when it begins, local, such as 2027-03-04T22:30; then the venue's shifts, breaks "
                "and rates count"},
    {.name = "--from-move",
     .value = "N",
     AS_INTEGER(changeover_options, from_move),
     .least = 1,
     .most = GRADIN_MAX_MOVE,
     .usages = 1u << PAIR,
     .meaning = "first move of the list that has not begun at --at: plan the rest again"},
    {.name = "--at",
     .value = "TIME",
     AS_TEXT(changeover_options, at),
     .usages = 1u << PAIR,
     .meaning = "when --from-move can begin: h:mm since the start, or as --start"},
    {.name = "--nodes",
     .value = "N",
     AS_INTEGER(changeover_options, n_node),
     .least = 1000,
     .most = 100000000,
     .usages = 1u << PAIR | 1u << MATRIX,
     .meaning =
         "steps of the search, when not given 30000, or 1000 for each plan of a matrix; more "
         "may prove or shorten a plan, and the same number gives the same plan"},
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(changeover_options, out_dir),
     .usages = 1u << PAIR,
     .meaning = "folder for moves.csv, changeover.json, a chart of the moves, cues.pdf (a cue "
                "sheet per gang) and, "
                "with --start, moves.ics, made when it is not there"},
    {.name = "--matrix",
     AS_FLAG(changeover_options, is_matrix),
     .usages = 1u << MATRIX,
     .meaning = "print the hours from each of 2 to 7 layouts to each other"},
    FORMAT_OPTION_OF(changeover_options, format, 1u << PAIR),
    JSON_OPTION(changeover_options, is_json),
    QUIET_OPTION(changeover_options, is_quiet)};

static const example_form examples[] = {
    {"gradin changeover thrust.yaml flat_floor.yaml --gap 5", "does it fit between two shows?"},
    {"gradin changeover thrust.yaml flat_floor.yaml --start 2027-03-04T22:30", "by the clock"},
    {"gradin changeover --matrix end_stage.yaml thrust.yaml round.yaml", "each way, in hours"}};

const verb_form changeover_verb = {
    .name = "changeover",
    .summary = "plan the moves between two layouts, and their hours",
    .description =
        "Lists what has to move from one layout to the other (machines, seats, loose rails), who "
        "waits for whom, and when each move starts and ends with the venue's crew, power and "
        "store lift. The total is proven least, or stands beside a bound under which no plan can "
        "be. Times are the sum of stated rates. With --start they hold the venue's shifts and "
        "breaks, too. Where the venue states a contingency, the total is drawn many times over; "
        "else nothing is kept for faults and learning.\n\n"
        "Nobody stands under or on moving machinery. Trained operators follow the maker's "
        "procedure.",
    .limit = "the plan does not fit into --gap, leaves less than --margin of it, or would do so in "
             "more than 20 of 100 nights drawn by the venue's contingency",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(changeover_options),
    .run = changeover};
