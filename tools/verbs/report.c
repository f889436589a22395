/* gradin report LAYOUT... --out DIR: assess, check and compare, then one document of it all. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/studies/report_write.h"

#include <omp.h>

typedef struct report_options {
    const char *out_dir, *brief, *cache;
    int n_sample, n_draw, n_thread; /* n_thread 0: all cores */
    bool is_without_changeovers, is_quiet;
} report_options;

typedef struct job {
    const report_options *o;
    const char *const *file; /* [n] */
    int n;
    gradin_model *model;                /* [n] */
    gradin_assessment *assessment;      /* [n] */
    gradin_fit *check;                  /* [n] */
    const gradin_assessment **assessed; /* [n] as the report takes them */
    const gradin_fit **fit;             /* [n] NULL where the venue states no machines */
    gradin_comparison comparison;
    char *html;
    size_t size;
} job;

/* The rough checks of those that have machines. */
static gradin_status check_all(job *j, gradin_arena *arena, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < j->n && status == GRADIN_OK; i++) {
        if (!j->model[i].machinery) continue;
        status = gradin_fit_check(arena, &j->model[i], &j->check[i], error);
        if (status == GRADIN_OK) status = gradin_fit_routes(arena, &j->check[i], error);
        j->fit[i] = &j->check[i];
    }
    return status;
}

static gradin_status compute(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_compare_options how = {.is_without_changeovers = j->o->is_without_changeovers};
    gradin_report made = {.n = j->n, .assessment = j->assessed, .fit = j->fit};
    const gradin_assess_options seen = {
        .sight = {.n_sample = j->o->n_sample, .n_draw = j->o->n_draw}, .room_cache = j->o->cache};
    gradin_status status = assess_files(arena, j->file, j->n, j->o->brief, &seen, j->model,
                                        j->assessment, j->assessed, error);
    if (status == GRADIN_OK) status = check_all(j, arena, error);
    if (status == GRADIN_OK && j->n > 1) {
        status = gradin_compare(arena, j->assessed, j->n, &how, &j->comparison, error);
        made.comparison = &j->comparison;
    }
    return status == GRADIN_OK ? gradin_report_html(arena, &made, &j->html, &j->size, error)
                               : status;
}

static int write_all(const job *j, gradin_arena *arena, gradin_error *error) {
    const result_file out = {.name = "report.html", .bytes = j->html, .size = j->size};
    int result = open_results(j->o->out_dir);
    if (result == EXIT_DONE)
        result = report(write_results(j->o->out_dir, &out, 1, arena, error), error);
    if (result != EXIT_DONE || j->o->is_quiet) return result;
    const char *line = gradin_arena_print(arena, "written to %s: report.html\n", j->o->out_dir);
    return line ? print_out(line) : EXIT_MACHINE;
}

static bool alloc_all(job *j, gradin_arena *arena) {
    size_t n = (size_t)j->n;
    j->model = gradin_arena_alloc(arena, n, sizeof *j->model);
    j->assessment = gradin_arena_alloc(arena, n, sizeof *j->assessment);
    j->check = gradin_arena_alloc(arena, n, sizeof *j->check);
    j->assessed = gradin_arena_alloc(arena, n, sizeof *j->assessed);
    j->fit = gradin_arena_alloc(arena, n, sizeof *j->fit);
    return j->model && j->assessment && j->check && j->assessed && j->fit;
}

static int tell(const job *j, int result) {
    for (int i = 0; i < j->n; i++) {
        for (int k = 0; k < j->model[i].n_note && !j->o->is_quiet; k++)
            say("note: %s", j->model[i].note[k]);
        if (result == EXIT_DONE && j->fit[i] && !j->fit[i]->is_met) result = EXIT_LIMIT;
    }
    return result;
}

static int write_report(const void *options, const operands *given, gradin_arena *arena,
                        gradin_error *error) {
    job j = {.o = options, .file = given->text, .n = given->n};
    if (!alloc_all(&j, arena)) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    if (j.o->n_thread > 0) omp_set_num_threads(j.o->n_thread);
    gradin_status status = compute(&j, arena, error);
    if (status != GRADIN_OK) return report(status, error);
    return tell(&j, write_all(&j, arena, error));
}

static const usage_form usages[] = {
    {.need = "one to six layouts are needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 6}}}};
_Static_assert(GRADIN_MAX_COMPARED == 6, "the most layouts that the usage names");

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(report_options, out_dir),
     .is_required = true,
     .meaning = "folder for report.html, made when it is not there"},
    BRIEF_OPTION(report_options, brief),
    SAMPLES_OPTION(report_options, n_sample, ""),
    {.name = "--draws",
     .value = "N",
     AS_INTEGER(report_options, n_draw),
     .least = 1,
     .most = GRADIN_MAX_DRAW,
     .absent = "none",
     .meaning = "audiences to draw, the same for all layouts"},
    {.name = "--no-changeovers",
     AS_FLAG(report_options, is_without_changeovers),
     .meaning = "plan no changeover between the layouts"},
    THREADS_OPTION(report_options, n_thread),
    CACHE_OPTION(report_options, cache),
    QUIET_OPTION(report_options, is_quiet)};

static const example_form examples[] = {
    {"gradin report thrust.yaml --out report", "one layout to hand over"},
    {"gradin report thrust.yaml round.yaml --out report", "two layouts, their plans side by side"}};

const verb_form report_verb = {
    .name = "report",
    .summary = "hand over layouts as one document for a browser",
    .description =
        "Assesses each layout, makes its rough checks, and compares several with the first. It "
        "writes one HTML file with everything inside: a summary, plans on which each seat can be "
        "picked with the mouse or the arrow keys, two layouts side by side, a list of seats to "
        "sort and search, worst seats, checks, limits in force and cautions. The file needs no "
        "network.\n\n"
        "The exit status is 1 when a rough check does not meet what the venue states.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(report_options),
    .run = write_report};
