/* gradin overflight LAYOUT --traffic FILE: a season of traffic at every seat. Nothing is created
 * before all computing has succeeded. */
#include "command.h"

#include "gradin/season_plot.h"
#include "gradin/season_write.h"

#include <omp.h>
#include <stdio.h>
#include <stdlib.h>
#include <time.h>
#include <unistd.h>

typedef struct overflight_options {
    options common;
    const char *traffic;
    option_texts seat; /* of the plot of level against time */
    bool is_skipping;
} overflight_options;

typedef struct pictures {
    unsigned char *trace, *starts; /* starts NULL without a limit */
    size_t trace_size, starts_size;
} pictures;

typedef struct ticker {
    time_t start;
    bool is_shown;
} ticker;

static void tick(void *user, int done, int total) {
    ticker *t = user;
    if (time(NULL) - t->start < 1) return;
    t->is_shown = true;
    fprintf(stderr, "\rflights %d of %d", done, total);
}

/* The room is one step, so it is told at once. */
static void tick_or_room(void *user, int done, int total) {
    ticker *t = user;
    if (total > 0) {
        tick(user, done, total);
        return;
    }
    t->is_shown = true;
    fputs("\rroom", stderr);
}

static void tell_skipped(const gradin_error *skipped, int n) {
    char line[GRADIN_FILE_CHARS + GRADIN_KEY_CHARS + GRADIN_TEXT_CHARS];
    for (int i = 0; i < skipped->n_diagnostic; i++) {
        gradin_diagnostic_format(&skipped->diagnostic[i], line, sizeof line);
        say("skipped: %s", line);
    }
    if (n > skipped->n_diagnostic) say("skipped: and %d more rows", n - skipped->n_diagnostic);
}

static gradin_status compute(const overflight_options *o, gradin_arena *arena, gradin_model *model,
                             gradin_traffic *traffic, gradin_season *season, gradin_error *skipped,
                             gradin_error *error) {
    ticker t = {.start = time(NULL)};
    bool on_terminal = !o->common.is_quiet && isatty(STDERR_FILENO);
    gradin_season_options how = {.progress = on_terminal ? tick_or_room : NULL,
                                 .progress_user = &t,
                                 .trace_id = o->seat.text,
                                 .n_trace = o->seat.n};
    gradin_status status = gradin_model_read(arena, o->common.file[0], model, error);
    if (status == GRADIN_OK) model->room_cache = o->common.cache;
    if (status == GRADIN_OK && o->common.brief)
        status = gradin_brief_read(arena, o->common.brief, model, error);
    if (status == GRADIN_OK)
        status = gradin_traffic_read(arena, o->traffic, o->is_skipping, traffic, skipped, error);
    if (status == GRADIN_OK)
        status = gradin_season_compute(arena, model, traffic, &how, season, error);
    if (status == GRADIN_OK && o->common.bands)
        status = gradin_season_bands(arena, season, &o->common.band, error);
    if (t.is_shown) fputs("\r\033[K", stderr);
    return status;
}

static gradin_status draw(gradin_arena *arena, const gradin_season *season, pictures *p,
                          gradin_error *error) {
    gradin_status status = gradin_season_trace_png(arena, season, &p->trace, &p->trace_size, error);
    if (status != GRADIN_OK || season->limit_dba != season->limit_dba) return status;
    return gradin_season_starts_png(arena, season, &p->starts, &p->starts_size, error);
}

static gradin_status write_picture(gradin_arena *arena, const char *dir, const char *name,
                                   const unsigned char *bytes, size_t size, gradin_error *error) {
    const char *path = gradin_arena_print(arena, "%s/%s", dir, name);
    if (!path) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a file name");
    return gradin_write_file(path, bytes, size, error);
}

static int write_all(const overflight_options *o, gradin_arena *arena, const gradin_season *season,
                     gradin_error *error) {
    pictures p = {0};
    gradin_status status = draw(arena, season, &p, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = make_folder(o->common.out_dir);
    if (result != EXIT_DONE) return result;
    status = gradin_season_tables_write(season, o->common.out_dir, error);
    if (status == GRADIN_OK)
        status =
            write_picture(arena, o->common.out_dir, "level-time.png", p.trace, p.trace_size, error);
    if (status == GRADIN_OK && p.starts)
        status = write_picture(arena, o->common.out_dir, "start-times.png", p.starts, p.starts_size,
                               error);
    if (status == GRADIN_OK && !o->common.is_without_maps)
        status = gradin_season_maps_write(season, o->common.out_dir, NULL, error);
    return report(status, error);
}

static int print_result(const overflight_options *o, gradin_arena *arena,
                        const gradin_season *season, gradin_error *error) {
    char *text = NULL;
    size_t size = 0;
    if (o->common.is_quiet) return EXIT_DONE;
    gradin_status status = o->common.is_json
                               ? gradin_season_json(arena, season, &text, &size, error)
                               : gradin_season_text(arena, season, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int overflight(const overflight_options *o, gradin_arena *arena, gradin_error *error,
                      gradin_error *skipped) {
    gradin_model model;
    gradin_traffic traffic;
    gradin_season season;
    if (o->common.n_thread > 0) omp_set_num_threads(o->common.n_thread);
    gradin_status status = compute(o, arena, &model, &traffic, &season, skipped, error);
    if (status != GRADIN_OK) return report(status, error);
    const char *cache_note = season.house.transfer.cache_note;
    if (cache_note[0] != '\0') say("note: %s", cache_note);
    tell_skipped(skipped, traffic.n_skipped);
    int result = o->common.out_dir ? write_all(o, arena, &season, error) : EXIT_DONE;
    return result == EXIT_DONE ? print_result(o, arena, &season, error) : result;
}

static int run(const overflight_options *o) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(2, sizeof *error);
    int result = EXIT_MACHINE;
    if (arena && error)
        result = overflight(o, arena, &error[0], &error[1]);
    else
        say("out of memory");
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int verb_overflight(int n_argument, char **argument) {
    overflight_options o = {0};
    const option_form form[] = {{"--traffic", OPTION_TEXT, &o.traffic, 0, 0},
                                {"--skip-bad", OPTION_FLAG, &o.is_skipping, 0, 0},
                                {"--out", OPTION_TEXT, &o.common.out_dir, 0, 0},
                                {"--seat", OPTION_TEXTS, &o.seat, 0, 0},
                                {"--bands", OPTION_TEXT, &o.common.bands, 0, 0},
                                {"--no-maps", OPTION_FLAG, &o.common.is_without_maps, 0, 0},
                                {"--cache", OPTION_TEXT, &o.common.cache, 0, 0},
                                {"--brief", OPTION_TEXT, &o.common.brief, 0, 0},
                                {"--threads", OPTION_COUNT, &o.common.n_thread, 1, 256},
                                {"--quiet", OPTION_FLAG, &o.common.is_quiet, 0, 0},
                                {"--json", OPTION_FLAG, &o.common.is_json, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    o.common.file = file;
    if (!parse_options("overflight", n_argument, argument, form, sizeof form / sizeof *form, file,
                       &o.common.n_file))
        result = EXIT_INPUT;
    else if (o.common.n_file != 1)
        say("overflight: one layout is needed, not %d", o.common.n_file);
    else if (!o.traffic)
        say("overflight: --traffic FILE is needed");
    else if (parse_bands("overflight", o.common.bands, &o.common.band))
        result = run(&o);
    free(file);
    return result;
}
