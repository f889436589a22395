/* gradin changeover FROM TO, and gradin changeover --matrix LAYOUT...: plan, then write. */
#include "gradin/changeover.h"
#include "command.h"

#include <stdlib.h>

typedef struct wishes {
    const char *out_dir, *gap;
    int gap_s; /* 0 when not asked */
    bool is_matrix, is_json, is_quiet;
} wishes;

typedef struct output {
    const char *name;
    const void *bytes;
    size_t size;
} output;

static gradin_status make_outputs(gradin_arena *arena, const gradin_changeover *c, int gap_s,
                                  output out[3], gradin_error *error) {
    char *csv, *json;
    unsigned char *png;
    gradin_status status = gradin_changeover_csv(arena, c, &csv, &out[0].size, error);
    if (status == GRADIN_OK)
        status = gradin_changeover_json(arena, c, gap_s, &json, &out[1].size, error);
    if (status == GRADIN_OK) status = gradin_changeover_png(arena, c, &png, &out[2].size, error);
    if (status != GRADIN_OK) return status;
    out[0].name = "moves.csv", out[0].bytes = csv;
    out[1].name = "changeover.json", out[1].bytes = json;
    out[2].name = "moves.png", out[2].bytes = png;
    return GRADIN_OK;
}

static int write_files(const wishes *w, gradin_arena *arena, const gradin_changeover *c,
                       gradin_error *error) {
    output out[3];
    gradin_status status = make_outputs(arena, c, w->gap_s, out, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = make_folder(w->out_dir);
    for (int i = 0; i < 3 && result == EXIT_DONE; i++) {
        const char *path = gradin_arena_print(arena, "%s/%s", w->out_dir, out[i].name);
        status = path ? gradin_write_file(path, out[i].bytes, out[i].size, error)
                      : gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a name");
        result = report(status, error);
    }
    return result;
}

static int print_plan(const wishes *w, gradin_arena *arena, const gradin_changeover *c,
                      gradin_error *error) {
    char *text;
    size_t size;
    if (w->is_quiet) return EXIT_DONE;
    gradin_status status = w->is_json
                               ? gradin_changeover_json(arena, c, w->gap_s, &text, &size, error)
                               : gradin_changeover_text(arena, c, w->gap_s, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static int plan_one(const wishes *w, const char *const *file, gradin_arena *arena,
                    gradin_error *error) {
    gradin_model from, to;
    gradin_changeover c;
    gradin_status status = gradin_model_read(arena, file[0], &from, error);
    if (status == GRADIN_OK) status = gradin_model_read(arena, file[1], &to, error);
    if (status == GRADIN_OK) status = gradin_changeover_plan(arena, &from, &to, &c, error);
    if (status != GRADIN_OK) return report(status, error);
    int result = w->out_dir ? write_files(w, arena, &c, error) : EXIT_DONE;
    if (result == EXIT_DONE) result = print_plan(w, arena, &c, error);
    if (result == EXIT_DONE && w->gap_s > 0 && c.total_s > w->gap_s) result = EXIT_LIMIT;
    return result;
}

static gradin_status plan_all(const char *const *file, int n, gradin_arena *arena,
                              gradin_model *model, gradin_changeover *c, gradin_error *error) {
    gradin_status status = GRADIN_OK;
    for (int i = 0; i < n && status == GRADIN_OK; i++)
        status = gradin_model_read(arena, file[i], &model[i], error);
    for (int i = 0; i < n * n && status == GRADIN_OK; i++)
        status = gradin_changeover_plan(arena, &model[i / n], &model[i % n], &c[i], error);
    return status;
}

static int plan_matrix(const char *const *file, int n, gradin_arena *arena, gradin_error *error) {
    gradin_model *model = gradin_arena_alloc(arena, (size_t)n, sizeof *model);
    gradin_changeover *c = gradin_arena_alloc(arena, (size_t)n * (size_t)n, sizeof *c);
    char *text;
    if (!model || !c) {
        say("out of memory");
        return EXIT_MACHINE;
    }
    gradin_status status = plan_all(file, n, arena, model, c, error);
    if (status == GRADIN_OK) status = gradin_matrix_text(arena, c, n, &text, error);
    return status == GRADIN_OK ? print_out(text) : report(status, error);
}

static bool read_gap(wishes *w) {
    double hours = 0.0;
    if (!w->gap) return true;
    if (gradin_parse_number(w->gap, &hours) && hours > 0.0 && hours <= 1000.0) {
        w->gap_s = (int)ceil(hours * 3600.0 - 1e-6);
        return true;
    }
    say("changeover: --gap is '%s'; hours above 0 up to 1000 are needed", w->gap);
    return false;
}

static bool is_usable(wishes *w, int n_file) {
    if (!read_gap(w)) return false;
    if (w->is_matrix && (w->out_dir || w->gap || w->is_json || w->is_quiet))
        say("changeover: --matrix prints a table and takes no other option");
    else if (w->is_matrix && (n_file < 2 || n_file > 7))
        say("changeover: --matrix takes 2 to 7 layouts, not %d", n_file);
    else if (!w->is_matrix && n_file != 2)
        say("changeover: two layouts are needed, not %d", n_file);
    else
        return true;
    return false;
}

static int run(const wishes *w, const char *const *file, int n_file) {
    gradin_arena *arena = gradin_arena_create();
    gradin_error *error = calloc(1, sizeof *error);
    int result = EXIT_MACHINE;
    if (!arena || !error)
        say("out of memory");
    else
        result = w->is_matrix ? plan_matrix(file, n_file, arena, error)
                              : plan_one(w, file, arena, error);
    gradin_arena_destroy(arena);
    free(error);
    return result;
}

int verb_changeover(int n_argument, char **argument) {
    wishes w = {0};
    const option_form form[] = {{"--out", OPTION_TEXT, &w.out_dir, 0, 0},
                                {"--gap", OPTION_TEXT, &w.gap, 0, 0},
                                {"--matrix", OPTION_FLAG, &w.is_matrix, 0, 0},
                                {"--json", OPTION_FLAG, &w.is_json, 0, 0},
                                {"--quiet", OPTION_FLAG, &w.is_quiet, 0, 0}};
    const char **file = calloc((size_t)n_argument + 1, sizeof *file);
    int n_file = 0, result = EXIT_INPUT;
    if (!file) return EXIT_MACHINE;
    if (parse_options("changeover", n_argument, argument, form, sizeof form / sizeof *form, file,
                      &n_file) &&
        is_usable(&w, n_file))
        result = run(&w, file, n_file);
    free(file);
    return result;
}
