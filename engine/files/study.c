/* A study: which keys are varied and by which values, held against the tables of keys. */
#include "files/study.h"
#include "base/lookup.h"
#include "base/use.h"
#include "files/schema/path.h"
#include "files/schema/read.h"
#include "files/schema/values.h"
#include "files/stated/layout.h"
#include "files/stated/noise.h"
#include "files/stated/study.h"
#include "files/stated/venue.h"
#include "gradin/files.h"

#include <string.h>

static const schema_file *const schema_of[GRADIN_N_VARIED_FILE] = {
    &venue_schema, &layout_schema, &traffic_schema, &brief_schema, &pass_schema};

static const char *path_of(reader *r, const char *name) {
    if (!name) return NULL;
    return note_failure(&r->c, gradin_path_beside(r->c.arena, r->c.file, name));
}

/* The one file whose path is stated; -1 after a complaint. */
static int find_file(reader *r, const stated_varied *from) {
    int found = -1, n = 0;
    for (int k = 0; k < GRADIN_N_VARIED_FILE; k++) {
        if (!from->path[k]) continue;
        found = k;
        n++;
    }
    if (n == 1) return found;
    complain(r, from->at,
             "needs one path: venue, layout, traffic, brief or overflight, and no other of them");
    return -1;
}

static void fill_paths(reader *r, const stated_varied *from, gradin_varied *v) {
    const char **path = alloc(&r->c, from->n_also + 1, sizeof *path);
    const char *word = gradin_varied_file_name(v->file);
    const node *also = map_get(from->at, "also");
    if (!path) return;
    path[0] = from->path[v->file];
    path_check(r, &map_get(from->at, word)->place, schema_of[v->file], path[0]);
    for (int i = 0; i < from->n_also; i++) {
        path[i + 1] = from->also[i];
        path_check(r, &also->child[i]->place, schema_of[v->file], path[i + 1]);
    }
    v->path = path;
    v->n_path = from->n_also + 1;
}

static const char *last_key(const char *path) {
    const char *dot = strrchr(path, '.'), *bracket = strrchr(path, ']');
    return dot && dot > bracket ? dot + 1 : path;
}

/* Values from one to another in steps, as texts. */
static void fill_steps(reader *r, const stated_varied *from, gradin_varied *v) {
    double n = floor((from->to - from->from) / from->step + 1e-9) + 1.0;
    if (n > GRADIN_MAX_STUDY_VALUE) {
        complain(r, map_get(from->at, "step"), "makes %.0f values; at most %d are allowed", n,
                 GRADIN_MAX_STUDY_VALUE);
        return;
    }
    const char **value = alloc(&r->c, (int)n, sizeof *value);
    for (int i = 0; value && i < (int)n; i++) {
        char text[GRADIN_VALUE_CHARS];
        gradin_study one = {.varied = &(gradin_varied){.from = from->from + i * from->step},
                            .n_varied = 1,
                            .n_design = 1};
        one.varied->to = one.varied->from;
        gradin_study_value(&one, 0, 0, text);
        value[i] = print_text(&r->c, "%s", text);
    }
    v->value = value;
    v->n_value = value ? (int)n : 0;
}

static void fill_values(reader *r, const stated_varied *from, bool is_free, gradin_varied *v) {
    v->from = from->from;
    v->to = from->to;
    if (from->n_value > 0) {
        v->value = from->value;
        v->n_value = from->n_value;
        const node *list = map_get(from->at, "values");
        for (int i = 0; i < v->n_value; i++)
            if (strlen(v->value[i]) >= GRADIN_VALUE_CHARS)
                complain(r, list->child[i], "is longer than %d characters", GRADIN_VALUE_CHARS - 1);
        return;
    }
    if (from->to < from->from)
        complain(r, map_get(from->at, "to"), "is less than from");
    else if (!isnan(from->step))
        fill_steps(r, from, v);
    else if (!is_free)
        complain(r, from->at,
                 "needs a step; only a study of points, or with a search, does without");
}

static void fill_varied(reader *r, const stated_study *s, gradin_study *study) {
    gradin_varied *v = alloc(&r->c, s->n_varied, sizeof *v);
    for (int i = 0; v && i < s->n_varied; i++) {
        const stated_varied *from = &s->varied[i];
        int file = from->at ? find_file(r, from) : -1;
        if (file < 0) continue;
        v[i] = (gradin_varied){.file = (gradin_varied_file)file, .at = &from->at->place};
        fill_paths(r, from, &v[i]);
        fill_values(r, from, s->n_design > 0 || s->search, &v[i]);
        v[i].name = from->name ? from->name : last_key(from->path[file]);
        for (int k = 0; k < i; k++)
            if (v[k].name && strcmp(v[k].name, v[i].name) == 0)
                complain(r, from->at, "is called %s like another key; give it a name", v[i].name);
    }
    study->varied = v;
    study->n_varied = s->n_varied;
}

static void add_figure(gradin_study_figure *figure, int *n, gradin_study_figure which) {
    for (int i = 0; i < *n; i++)
        if (figure[i] == which) return;
    figure[(*n)++] = which;
}

/* Stated ones first, then what needs, aims and the picture are about. */
static void fill_figures(reader *r, const stated_study *s, gradin_study *study) {
    gradin_study_figure *figure = alloc(&r->c, GRADIN_N_STUDY_FIGURE, sizeof *figure);
    int n = 0;
    if (!figure) return;
    for (int i = 0; i < s->n_figure; i++) add_figure(figure, &n, (gradin_study_figure)s->figure[i]);
    for (int i = 0; i < s->n_bound; i++) add_figure(figure, &n, s->bound[i].figure);
    for (int i = 0; i < s->n_aim; i++) add_figure(figure, &n, s->aim[i].figure);
    if (s->picture) add_figure(figure, &n, s->picture->figure);
    if (n == 0) complain(r, s->at, "asks for nothing; write figures, needs or aims");
    study->figure = figure;
    study->n_figure = n;
}

static void fill_judgement(reader *r, const stated_study *s, gradin_study *study) {
    gradin_study_bound *bound = alloc(&r->c, s->n_bound, sizeof *bound);
    gradin_study_aim *aim = alloc(&r->c, s->n_aim, sizeof *aim);
    for (int i = 0; bound && i < s->n_bound; i++)
        bound[i] = (gradin_study_bound){s->bound[i].figure,
                                        isnan(s->bound[i].least) ? -INFINITY : s->bound[i].least,
                                        isnan(s->bound[i].most) ? INFINITY : s->bound[i].most};
    for (int i = 0; aim && i < s->n_aim; i++)
        aim[i] = (gradin_study_aim){s->aim[i].figure, s->aim[i].best == 1};
    study->bound = bound;
    study->n_bound = s->n_bound;
    study->aim = aim;
    study->n_aim = s->n_aim;
}

static int find_key(reader *r, const stated_response *p, const char *word, const char *name,
                    const gradin_study *study) {
    int k = index_of(study->varied, study->n_varied, sizeof *study->varied, name);
    if (k < 0) complain(r, map_get(p->at, word), "is '%s'; no key of vary is called so", name);
    if (k >= 0 && study->varied[k].n_value == 0)
        complain(r, map_get(p->at, word), "is '%s', which has no steps to draw", name);
    return k;
}

static void fill_picture(reader *r, const stated_study *s, gradin_study *study) {
    const stated_response *p = s->picture;
    study->picture[0] = study->picture[1] = study->picture_figure = -1;
    if (!p || !p->at) return;
    study->picture[0] = find_key(r, p, "across", p->across, study);
    study->picture[1] = find_key(r, p, "up", p->up, study);
    study->picture_figure = (int)p->figure;
    if (s->n_design > 0) complain(r, p->at, "needs every combination of values; points are stated");
    if (study->picture[0] >= 0 && study->picture[0] == study->picture[1])
        complain(r, map_get(p->at, "up"), "is the key across, too");
}

static void fill_search(reader *r, const stated_study *s, gradin_study *study) {
    if (!s->search || !s->search->at) return;
    study->search = (gradin_search){s->search->n_most, s->search->seed};
    if (s->n_design > 0)
        complain(r, s->search->at, "cannot stand beside points: the study has one of the two");
    if (s->n_aim == 0) complain(r, s->search->at, "needs aims");
}

/* What a figure needs of the study. */
static void check_figures(reader *r, const stated_study *s, const gradin_study *study) {
    for (int i = 0; i < study->n_figure; i++) {
        const gradin_study_figure_form *form = gradin_study_figure_of(study->figure[i]);
        if (form->stage == GRADIN_STAGE_SEASON && !s->traffic)
            complain(r, s->at, "asks for %s; traffic is missing", form->word);
        if (form->stage == GRADIN_STAGE_CHANGEOVER && !s->partner)
            complain(r, s->at, "asks for %s; partner is missing", form->word);
    }
}

bool study_read(reader *r, const char *path, gradin_study *study) {
    stated_study s = {0};
    const node *root = SCHEMA_READ_FILE(r, path, &study_schema, &s);
    if (!root || complaints_status(&r->c) != GRADIN_OK) return false;
    *study = (gradin_study){.name = s.name,
                            .file = path,
                            .layout_path = path_of(r, s.layout),
                            .partner_path = path_of(r, s.partner),
                            .traffic_path = path_of(r, s.traffic),
                            .brief_path = path_of(r, s.brief),
                            .limit_dba = s.limit_dba,
                            .percentile = s.percentile,
                            .n_design = s.n_design};
    fill_varied(r, &s, study);
    if (complaints_status(&r->c) != GRADIN_OK) return false;
    fill_figures(r, &s, study);
    fill_judgement(r, &s, study);
    fill_picture(r, &s, study);
    fill_search(r, &s, study);
    check_figures(r, &s, study);
    if (complaints_status(&r->c) == GRADIN_OK && !s.search && gradin_study_points(study) == 0)
        complain(r, map_get(root, "vary"), "makes more than %d points; write points for a design",
                 GRADIN_MAX_STUDY_POINT);
    return complaints_status(&r->c) == GRADIN_OK;
}

gradin_status gradin_study_read(gradin_arena *arena, const char *path, gradin_study *study,
                                gradin_error *error) {
    if (NEEDS(error, arena, path, study) != GRADIN_OK) return GRADIN_BAD_USE;
    char digest[33] = "";
    reader r = {.c = {.arena = arena, .error = error}, .unit_m = 1.0, .digest = digest};
    const char *file = gradin_arena_copy_text(arena, path);
    if (!file) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    study_read(&r, file, study);
    memcpy(study->digest, digest, sizeof digest);
    return complaints_status(&r.c);
}
