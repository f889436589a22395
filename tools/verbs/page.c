/* gradin page LAYOUT... --out DIR: assess, cut the banks, compare, then one A3 page each. */
#include "command.h"
#include "gradin/files.h"
#include "gradin/studies/compare_write.h"
#include "gradin/studies/page/picture.h"
#include "progress.h"

#include <omp.h>

typedef struct page_options {
    const char *out_dir, *brief, *cache;
    int n_sample, n_thread, format; /* n_thread 0: all cores */
    bool is_without_changeovers, is_quiet;
} page_options;

typedef struct job {
    const page_options *o;
    const char *const *file; /* [n] */
    int n;
    gradin_model *model;                /* [n] */
    gradin_assessment *assessment;      /* [n] */
    const gradin_assessment **assessed; /* [n] */
    gradin_layout_page *page;           /* [n] */
    char **verdict;                     /* [n] */
    gradin_comparison comparison;
    gradin_pages pages;
} job;

static gradin_status compare_all(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_compare_options how = {.is_without_changeovers = j->o->is_without_changeovers};
    progress_step("compare");
    gradin_status status = gradin_compare(arena, j->assessed, j->n, &how, &j->comparison, error);
    for (int i = 0; i + 1 < j->n && status == GRADIN_OK; i++)
        status = gradin_compare_verdict_text(arena, &j->comparison, i, &j->verdict[i], error);
    j->pages.comparison = &j->comparison;
    j->pages.verdict = (const char *const *)j->verdict;
    return status;
}

static gradin_status compute(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_assess_options how = {.sight = {.n_sample = j->o->n_sample},
                                       .room_cache = j->o->cache};
    gradin_status status = assess_files(arena, j->file, j->n, j->o->brief, &how, j->model,
                                        j->assessment, j->assessed, error);
    progress_step("sections");
    for (int i = 0; i < j->n && status == GRADIN_OK; i++)
        status = gradin_layout_page_compute(arena, j->assessed[i], &j->page[i], error);
    j->pages = (gradin_pages){.layout = j->page, .n = j->n};
    return status == GRADIN_OK && j->n > 1 ? compare_all(j, arena, error) : status;
}

/* One PDF of all, else a picture of each: *made [*n]. */
static gradin_status draw(const job *j, gradin_arena *arena, result_file *made, int *n,
                          gradin_error *error) {
    int n_page = gradin_pages_count(&j->pages);
    bool is_pdf = j->o->format == GRADIN_PICTURE_PDF;
    gradin_status status = GRADIN_OK;
    progress_step("drawing");
    *n = is_pdf ? 1 : n_page;
    for (int i = 0; i < *n && status == GRADIN_OK; i++) {
        unsigned char *bytes = NULL;
        const char *stem = is_pdf ? "page" : gradin_page_stem(arena, &j->pages, i);
        made[i].name = stem ? picture_file(arena, stem, j->o->format) : NULL;
        if (!made[i].name) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
        status = is_pdf ? gradin_pages_pdf(arena, &j->pages, &bytes, &made[i].size, error)
                        : gradin_page_picture(arena, &j->pages, i, (gradin_picture)j->o->format,
                                              &bytes, &made[i].size, error);
        made[i].bytes = bytes;
    }
    return status;
}

static bool alloc_all(job *j, gradin_arena *arena) {
    size_t n = (size_t)j->n;
    j->model = gradin_arena_alloc(arena, n, sizeof *j->model);
    j->assessment = gradin_arena_alloc(arena, n, sizeof *j->assessment);
    j->assessed = gradin_arena_alloc(arena, n, sizeof *j->assessed);
    j->page = gradin_arena_alloc(arena, n, sizeof *j->page);
    j->verdict = gradin_arena_alloc(arena, n, sizeof *j->verdict);
    return j->model && j->assessment && j->assessed && j->page && j->verdict;
}

static int make_pages(const void *options, const operands *given, gradin_arena *arena,
                      gradin_error *error) {
    job j = {.o = options, .file = given->text, .n = given->n};
    result_file made[2 * GRADIN_MAX_COMPARED];
    int n = 0;
    if (!alloc_all(&j, arena)) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    if (j.o->n_thread > 0) omp_set_num_threads(j.o->n_thread);
    gradin_status status = compute(&j, arena, error);
    if (status == GRADIN_OK) status = draw(&j, arena, made, &n, error);
    if (status != GRADIN_OK) return report(status, error);
    for (int i = 0; i < j.n; i++) say_notes_of(&j.assessment[i]);
    return put_results(j.o->out_dir, made, n, j.o->is_quiet, arena, error);
}

static const usage_form usages[] = {
    {.need = "one to six layouts are needed", .operand = {{"LAYOUT", OPERAND_YAML, 1, 6}}}};
_Static_assert(GRADIN_MAX_COMPARED == 6, "the most layouts that the usage names");

static const option_form options[] = {
    {.name = "--out",
     .value = "DIR",
     AS_FOLDER(page_options, out_dir),
     .is_required = true,
     .meaning = "folder for the pages, made when it is not there"},
    {.name = "--format",
     .value = "FORMAT",
     AS_CHOICE(page_options, format),
     .choice = format_words,
     .preset = GRADIN_PICTURE_PDF,
     .is_preset_shown = true,
     .meaning = "one PDF of all pages, or each page as a picture"},
    BRIEF_OPTION(page_options, brief),
    SAMPLES_OPTION(page_options, n_sample, ""),
    {.name = "--no-changeovers",
     AS_FLAG(page_options, is_without_changeovers),
     .meaning = "plan no changeover between the layouts"},
    THREADS_OPTION(page_options, n_thread),
    CACHE_OPTION(page_options, cache),
    QUIET_OPTION(page_options, is_quiet)};

static const example_form examples[] = {
    {"gradin page thrust.yaml --out page", "one layout on one sheet of A3"},
    {"gradin page thrust.yaml round.yaml --out page",
     "a page of each, and one that compares the two"}};

const verb_form page_verb = {
    .name = "page",
    .summary = "put a layout, or two compared, on one sheet of A3",
    .description =
        "Assesses each layout and draws it on one page: the plan with the rating of each seat, "
        "three small plans, sections through the middles of the banks, a table of the blocks, the "
        "worst places with their reasons, the limits in force and the cautions. Of several "
        "layouts each other one is compared with the first on a page of its own: both plans, the "
        "difference, the largest changes, the changeover both ways and what it comes to.",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(page_options),
    .run = make_pages};
