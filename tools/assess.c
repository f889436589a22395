/* gradin assess LAYOUT --out DIR: read, compute, then write. Nothing is created before all
 * computing has succeeded. */
#include "command.h"

#include <omp.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

typedef struct progress {
    double start_s;
    bool is_shown;
} progress;

static double now_s(void) {
    struct timespec now;
    clock_gettime(CLOCK_MONOTONIC, &now);
    return (double)now.tv_sec + (double)now.tv_nsec / 1e9;
}

static void show_progress(void *user, int done, int total) {
    progress *p = user;
    if (now_s() - p->start_s < 1.0 || total <= 0) return;
    p->is_shown = true;
    fprintf(stderr, "\r%d of %d", done, total);
}

static void end_progress(const progress *p) {
    if (p->is_shown) fputs("\r\033[K", stderr);
}

static int write_all(const options *o, const gradin_assessment *a, int *n_map,
                     gradin_error *error) {
    int result = make_folder(o->out_dir);
    if (result != EXIT_DONE) return result;
    gradin_status status = gradin_tables_write(a, o->out_dir, error);
    if (status == GRADIN_OK && !o->is_without_maps)
        status = gradin_maps_write(a, o->out_dir, n_map, error);
    if (status != GRADIN_OK) return report(status, error);
    return EXIT_DONE;
}

static int print_written(const options *o, int n_map) {
    char line[1200];
    if (o->is_quiet || o->is_json) return EXIT_DONE;
    snprintf(line, sizeof line, "\nwritten to %s: seats.csv, summary.json, %d maps (PNG)\n",
             o->out_dir, n_map);
    return print_out(line);
}

static int print_summary(const options *o, gradin_arena *arena, const gradin_assessment *a,
                         gradin_error *error) {
    char *text;
    size_t size;
    if (o->is_quiet) return EXIT_DONE;
    gradin_status status = o->is_json ? gradin_summary_json(arena, a, &text, &size, error)
                                      : gradin_summary_text(arena, a, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static gradin_status compute(const options *o, gradin_arena *arena, gradin_model *model,
                             gradin_assessment *a, gradin_error *error) {
    progress p = {.start_s = now_s()};
    bool on_terminal = !o->is_quiet && isatty(STDERR_FILENO);
    gradin_sight_options sight = {.n_sample = o->n_sample,
                                  .n_draw = o->n_draw,
                                  .progress = on_terminal ? show_progress : NULL,
                                  .progress_user = &p};
    gradin_status status = gradin_model_read(arena, o->file[0], model, error);
    if (status == GRADIN_OK) model->room_cache = o->cache;
    if (status == GRADIN_OK && o->brief) status = gradin_brief_read(arena, o->brief, model, error);
    if (status == GRADIN_OK) status = gradin_assess(arena, model, &sight, a, error);
    if (status == GRADIN_OK && o->bands) status = gradin_assess_bands(arena, a, &o->band, error);
    end_progress(&p);
    return status;
}

static int assess(const options *o, gradin_arena *arena, gradin_error *error) {
    gradin_model model;
    gradin_assessment a;
    if (o->n_thread > 0) omp_set_num_threads(o->n_thread);
    gradin_status status = compute(o, arena, &model, &a, error);
    if (status != GRADIN_OK) return report(status, error);
    for (int i = 0; i < model.n_note; i++) say("note: %s", model.note[i]);
    if (a.has_noise && a.noise.cache_note[0] != '\0') say("note: %s", a.noise.cache_note);
    int n_map = 0, result = write_all(o, &a, &n_map, error);
    if (result == EXIT_DONE) result = print_summary(o, arena, &a, error);
    return result == EXIT_DONE ? print_written(o, n_map) : result;
}

static int run(const options *o) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = assess(o, arena, error);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int verb_assess(int n_argument, char **argument) {
    options o = {0};
    const option_form form[] = {{"--out", OPTION_TEXT, &o.out_dir, 0, 0},
                                {"--brief", OPTION_TEXT, &o.brief, 0, 0},
                                {"--samples", OPTION_COUNT, &o.n_sample, 16, GRADIN_MAX_SAMPLE},
                                {"--threads", OPTION_COUNT, &o.n_thread, 1, 256},
                                {"--draws", OPTION_COUNT, &o.n_draw, 1, GRADIN_MAX_DRAW},
                                {"--cache", OPTION_TEXT, &o.cache, 0, 0},
                                {"--bands", OPTION_TEXT, &o.bands, 0, 0},
                                {"--no-maps", OPTION_FLAG, &o.is_without_maps, 0, 0},
                                {"--quiet", OPTION_FLAG, &o.is_quiet, 0, 0},
                                {"--json", OPTION_FLAG, &o.is_json, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    o.file = file;
    if (!parse_options("assess", n_argument, argument, form, sizeof form / sizeof *form, file,
                       &o.n_file))
        result = EXIT_INPUT;
    else if (o.n_file != 1)
        say("assess: one layout is needed, not %d", o.n_file);
    else if (!o.out_dir)
        say("assess: --out DIR is needed");
    else if (parse_bands("assess", o.bands, &o.band))
        result = run(&o);
    free(file);
    return result;
}
