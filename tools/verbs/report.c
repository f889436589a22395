/* gradin report LAYOUT... --out DIR: assess, check, compare and look, then one document of it all,
 * for a browser and as a PDF. */
#include "choose_files.h"
#include "gradin/files.h"
#include "gradin/studies/choose_write.h"
#include "gradin/studies/compare_write.h"
#include "gradin/studies/page/picture.h"
#include "gradin/studies/report_write.h"
#include "gradin/studies/view_picture.h"
#include "gradin/studies/viewpoints.h"
#include "progress.h"

#include <omp.h>

enum { VIEW_WIDTH_PX = 400, VIEW_HEIGHT_PX = 250 };
/* A room of 20,000 seats may have 3 GB: such are made again in place of six at a time. */
enum { MOST_LAID_ASIDE = 2000 };

typedef struct report_options {
    const char *out_dir, *brief, *cache, *show;
    int n_sample, n_draw, n_node, n_thread, n_view; /* n_thread 0: all cores */
    bool is_without_changeovers, is_without_checks, is_json, is_quiet;
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
    gradin_kept_room kept;       /* of the layout that is assessed */
    gradin_kept_room *room;      /* [n] what of it the choice takes up */
    gradin_passing *passing;     /* [n] */
    gradin_layout_page *page;    /* [n] */
    gradin_view_entry **entry;   /* [n][n_view] */
    gradin_report_image **image; /* [n][n_view] */
    int *n_view;                 /* [n] */
    char **verdict;              /* [n] */
    chosen *chosen;              /* NULL without a show */
    gradin_page_text text[2 * GRADIN_MAX_COMPARED + 2];
    int n_text;
    char *html, *json;
    unsigned char *pdf;
    size_t html_size, pdf_size;
} job;

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Views of one layout. */
typedef struct look {
    job *j;
    int layout;
    const gradin_viewpoint *point;
} look;

static gradin_status look_from(void *user, int k, gradin_arena *arena, gradin_error *error) {
    const look *l = user;
    const gradin_viewpoint *point = &l->point[k];
    const gradin_view_options how = {.width_px = VIEW_WIDTH_PX, .height_px = VIEW_HEIGHT_PX};
    gradin_report_image *image = &l->j->image[l->layout][k];
    gradin_view *view = gradin_arena_alloc(arena, 1, sizeof *view);
    unsigned char *png = NULL;
    if (!view) return no_memory(error);
    gradin_status status =
        gradin_view_compute(arena, &l->j->model[l->layout], point->seat, &how, view, error);
    if (status == GRADIN_OK) status = gradin_view_image(arena, view, &png, &image->size, error);
    l->j->entry[l->layout][k] = (gradin_view_entry){view, point->title};
    image->seat = point->seat;
    image->title = point->title;
    image->png = png;
    return status;
}

static gradin_status look_around(job *j, gradin_arena *arena, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < j->n && j->o->n_view > 0 && status == GRADIN_OK; i++) {
        gradin_viewpoint *point = NULL;
        progress_step("views of layout %d of %d", i + 1, j->n);
        j->entry[i] = gradin_arena_alloc(arena, GRADIN_MAX_VIEW, sizeof **j->entry);
        j->image[i] = gradin_arena_alloc(arena, GRADIN_MAX_VIEW, sizeof **j->image);
        if (!j->entry[i] || !j->image[i]) return no_memory(error);
        status = gradin_viewpoints_choose(arena, &j->model[i], &j->assessment[i].sight,
                                          j->o->n_view, &point, &j->n_view[i], error);
        look from = {j, i, point};
        if (status == GRADIN_OK)
            status = gradin_for_each(arena, j->n_view[i], look_from, &from, error);
    }
    return status;
}

/* A text that was made, or why it was not. */
static gradin_status add_text(job *j, gradin_arena *arena, gradin_status made, const char *what,
                              const char *of, const char *text, gradin_error *error) {
    if (made != GRADIN_OK) return made;
    const char *title = gradin_arena_print(arena, "%s%s%.200s", what, of ? ": " : "", of ? of : "");
    if (!title) return no_memory(error);
    j->text[j->n_text++] = (gradin_page_text){title, text};
    return GRADIN_OK;
}

/* What the page in words says: comparison, summaries, rough checks. */
static gradin_status put_in_words(job *j, gradin_arena *arena, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    char *text = NULL;
    if (j->n > 1) {
        status = gradin_compare_text(arena, &j->comparison, &text, error);
        status = add_text(j, arena, status, "Compared", NULL, text, error);
    }
    if (status == GRADIN_OK && j->chosen) {
        status = gradin_choice_text(arena, &j->chosen->choice, &text, error);
        status = add_text(j, arena, status, "Choices", j->chosen->show.name, text, error);
    }
    for (int i = 0; i < j->n && status == GRADIN_OK; i++) {
        const char *name = j->model[i].layout_name;
        status = gradin_summary_text(arena, j->assessed[i], &text, error);
        status = add_text(j, arena, status, "Summary", name, text, error);
        if (status != GRADIN_OK || !j->fit[i]) continue;
        status = gradin_fit_text(arena, j->fit[i], &text, error);
        status = add_text(j, arena, status, "Rough checks", name, text, error);
    }
    return status;
}

static gradin_status cut_page(void *user, int i, gradin_arena *arena, gradin_error *error) {
    job *j = user;
    return gradin_layout_page_compute(arena, j->assessed[i], &j->page[i], error);
}

/* All that the documents say. */
static gradin_status gather(job *j, gradin_arena *arena, gradin_error *error) {
    progress_step("pages");
    gradin_status status = put_in_words(j, arena, error);
    if (status == GRADIN_OK) status = gradin_for_each(arena, j->n, cut_page, j, error);
    for (int i = 0; i + 1 < j->n && status == GRADIN_OK; i++)
        status = gradin_compare_verdict_text(arena, &j->comparison, i, &j->verdict[i], error);
    return status;
}

static gradin_status make_pdf(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_pages pages = {.layout = j->page,
                                .n = j->n,
                                .comparison = j->n > 1 ? &j->comparison : NULL,
                                .verdict = (const char *const *)j->verdict,
                                .view = (const gradin_view_entry *const *)j->entry,
                                .n_view = j->n_view,
                                .text = j->text,
                                .n_text = j->n_text};
    return gradin_pages_pdf(arena, &pages, &j->pdf, &j->pdf_size, error);
}

/* The documents, which take from the job and know nothing of each other. */
typedef struct writing {
    job *j;
    const gradin_report *made;
} writing;

static gradin_status write_document(void *user, int k, gradin_arena *arena, gradin_error *error) {
    const writing *w = user;
    job *j = w->j;
    size_t size = 0;
    if (k == 0) return make_pdf(j, arena, error);
    if (k == 1) return gradin_report_html(arena, w->made, &j->html, &j->html_size, error);
    return gradin_report_json(arena, w->made, &j->json, &size, error);
}

/* The rough checks of a layout that has machines. */
static gradin_status check_one(void *user, int i, gradin_arena *arena, gradin_error *error) {
    job *j = user;
    if (!j->model[i].machinery) return GRADIN_OK;
    gradin_status status = gradin_fit_check(arena, &j->model[i], &j->check[i], error);
    if (status == GRADIN_OK) status = gradin_fit_routes(arena, &j->check[i], error);
    j->fit[i] = &j->check[i];
    return status;
}

static gradin_status check_all(job *j, gradin_arena *arena, gradin_error *error) {
    if (j->o->is_without_checks) return GRADIN_OK;
    progress_step("checks");
    return gradin_for_each(arena, j->n, check_one, j, error);
}

/* The sound field alone: glass and what falls on it goes on to the next layout. */
static void lay_aside(gradin_kept_room *kept, gradin_kept_room *room) {
    *room = *kept;
    room->glass = NULL;
    room->incidences = NULL;
    room->is_as_set_only = true;
    kept->arena = NULL;
    kept->transfer = NULL;
    kept->key[0] = '\0';
}

/* Assesses each layout, and its overflight against time while its room is at hand. */
static gradin_status assess_all(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_assess_options how = {.sight = {.n_sample = j->o->n_sample,
                                                 .n_draw = j->o->n_draw,
                                                 .progress = progress_count,
                                                 .progress_user = progress_seats},
                                       .room_cache = j->o->cache,
                                       .kept = &j->kept};
    gradin_status status = gradin_models_read(arena, j->file, j->n, j->model, error);
    for (int i = 0; i < j->n && status == GRADIN_OK; i++) {
        j->assessed[i] = &j->assessment[i];
        progress_step("layout %d of %d", i + 1, j->n);
        if (j->o->brief) status = gradin_brief_read(arena, j->o->brief, &j->model[i], error);
        if (status == GRADIN_OK)
            status = gradin_assess(arena, &j->model[i], &how, &j->assessment[i], error);
        if (status == GRADIN_OK)
            status = gradin_passing_compute(arena, j->assessed[i], j->o->cache, &j->kept,
                                            &j->passing[i], error);
        if (j->chosen && j->model[i].seats.n_seat <= MOST_LAID_ASIDE)
            lay_aside(&j->kept, &j->room[i]);
    }
    gradin_kept_room_clear(&j->kept);
    return status;
}

static void clear_rooms(job *j) {
    for (int i = 0; i < j->n; i++) gradin_kept_room_clear(&j->room[i]);
}

static gradin_status choose(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_choose_options how = {.sight = {.n_sample = j->o->n_sample,
                                                 .n_draw = j->o->n_draw,
                                                 .progress = progress_count,
                                                 .progress_user = progress_seats},
                                       .room_cache = j->o->cache,
                                       .kept = j->room,
                                       .finds_crew = !j->o->is_without_changeovers,
                                       .n_node = j->o->n_node};
    progress_step("choices");
    gradin_status status = choose_files(arena, j->file, j->n, &how, j->chosen, error);
    clear_rooms(j);
    return status;
}

/* What is read first is refused first. */
static gradin_status read_show(job *j, gradin_arena *arena, gradin_error *error) {
    if (!j->o->show) return GRADIN_OK;
    j->chosen = gradin_arena_alloc(arena, 1, sizeof *j->chosen);
    return j->chosen ? gradin_show_read(arena, j->o->show, &j->chosen->show, error)
                     : no_memory(error);
}

static gradin_status compute(job *j, gradin_arena *arena, gradin_error *error) {
    const gradin_compare_options how = {.is_without_changeovers = j->o->is_without_changeovers,
                                        .n_node = j->o->n_node};
    gradin_report made = {.n = j->n,
                          .assessment = j->assessed,
                          .fit = j->fit,
                          .image = (const gradin_report_image *const *)j->image,
                          .n_image = j->n_view,
                          .passing = j->passing};
    gradin_status status = read_show(j, arena, error);
    if (status == GRADIN_OK) status = assess_all(j, arena, error);
    if (status == GRADIN_OK) status = check_all(j, arena, error);
    if (status == GRADIN_OK && j->n > 1) {
        progress_step("compare");
        status = gradin_compare(arena, j->assessed, j->n, &how, &j->comparison, error);
        made.comparison = &j->comparison;
    }
    if (status == GRADIN_OK && j->chosen) {
        status = choose(j, arena, error);
        made.choice = &j->chosen->choice;
    }
    if (status == GRADIN_OK) status = look_around(j, arena, error);
    if (status == GRADIN_OK) status = gather(j, arena, error);
    return status == GRADIN_OK
               ? gradin_for_each(arena, 3, write_document, &(writing){j, &made}, error)
               : status;
}

static int write_all(const job *j, gradin_arena *arena, gradin_error *error) {
    const result_file out[] = {{.name = "report.html", .bytes = j->html, .size = j->html_size},
                               {.name = "report.pdf", .bytes = j->pdf, .size = j->pdf_size}};
    int result = put_results(j->o->out_dir, out, 2, j->o->is_quiet || j->o->is_json, arena, error);
    return result == EXIT_DONE && j->o->is_json ? print_out(j->json) : result;
}

static bool alloc_all(job *j, gradin_arena *arena) {
    size_t n = (size_t)j->n;
    j->model = gradin_arena_alloc(arena, n, sizeof *j->model);
    j->assessment = gradin_arena_alloc(arena, n, sizeof *j->assessment);
    j->check = gradin_arena_alloc(arena, n, sizeof *j->check);
    j->assessed = gradin_arena_alloc(arena, n, sizeof *j->assessed);
    j->fit = gradin_arena_alloc(arena, n, sizeof *j->fit);
    j->passing = gradin_arena_alloc(arena, n, sizeof *j->passing);
    j->page = gradin_arena_alloc(arena, n, sizeof *j->page);
    j->room = gradin_arena_alloc(arena, n, sizeof *j->room);
    j->entry = gradin_arena_alloc(arena, n, sizeof *j->entry);
    j->image = gradin_arena_alloc(arena, n, sizeof *j->image);
    j->n_view = gradin_arena_alloc(arena, n, sizeof *j->n_view);
    j->verdict = gradin_arena_alloc(arena, n, sizeof *j->verdict);
    return j->model && j->assessment && j->check && j->assessed && j->fit && j->passing &&
           j->page && j->room && j->entry && j->image && j->n_view && j->verdict;
}

/* The document says no more than the exit status. */
static int tell(const job *j, int result) {
    if (j->chosen) say_show_notes(j->chosen);
    if (result == EXIT_DONE && j->chosen && j->chosen->choice.n_meets == 0) result = EXIT_LIMIT;
    for (int i = 0; i < j->n; i++) {
        say_notes_of(&j->assessment[i]);
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
    clear_rooms(&j);
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
     .meaning = "folder for report.html and report.pdf, made when it is not there"},
    {.name = "--show",
     .value = "SHOW",
     AS_FILE(report_options, show),
     .absent = "none",
     .meaning = "a show: which of the layouts it is played in, as gradin choose ranks them"},
    BRIEF_OPTION(report_options, brief),
    SAMPLES_OPTION(report_options, n_sample, ""),
    {.name = "--draws",
     .value = "N",
     AS_INTEGER(report_options, n_draw),
     .least = 1,
     .most = GRADIN_MAX_DRAW,
     .absent = "none",
     .meaning = "audiences to draw, the same for all layouts"},
    {.name = "--views",
     .value = "N",
     AS_INTEGER(report_options, n_view),
     .least = 0,
     .most = GRADIN_MAX_VIEW,
     .preset = GRADIN_MAX_VIEW,
     .is_preset_shown = true,
     .meaning = "views of each layout, from seats chosen by what all of them see"},
    {.name = "--no-changeovers",
     AS_FLAG(report_options, is_without_changeovers),
     .meaning = "plan no changeover between the layouts"},
    {.name = "--no-checks",
     AS_FLAG(report_options, is_without_checks),
     .meaning = "make no rough checks, which take minutes of 20,000 seats"},
    NODES_OPTION(report_options, n_node),
    THREADS_OPTION(report_options, n_thread),
    CACHE_OPTION(report_options, cache),
    JSON_OPTION(report_options, is_json),
    QUIET_OPTION(report_options, is_quiet)};

static const example_form examples[] = {
    {"gradin report thrust.yaml --out report", "one layout to hand over"},
    {"gradin report thrust.yaml round.yaml --out report", "two layouts, their plans side by side"},
    {"gradin report thrust.yaml round.yaml --show quiet_play.yaml --out report",
     "the same, and which of them a show is played in"}};

const verb_form report_verb = {
    .name = "report",
    .summary = "hand over layouts as one document, as HTML and PDF",
    .description =
        "Assesses each layout, makes its rough checks, and compares several with the first. It "
        "writes one HTML file with everything inside: a summary, plans on which each seat can be "
        "picked with the mouse or the arrow keys, two layouts side by side, a list of seats to "
        "sort and search, views from chosen seats, worst seats, checks, limits in force and "
        "cautions. With a show it says which of the layouts has what the show must have. The file "
        "needs no network. The PDF has the pages of gradin page, the views, "
        "and the same texts.",
    .limit = "a rough check does not meet what the venue states, or no layout surely has all that "
             "the show must have",
    COUNTED(usage, usages),
    COUNTED(option, options),
    COUNTED(example, examples),
    .options_size = sizeof(report_options),
    .run = write_report};
