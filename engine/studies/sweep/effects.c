/* Main effects: the mean of each figure over the points where a key has one value. In a full grid
 * the other keys take all their values as often with each, so that they drop out; in a design of
 * points they do nearly. Points that cannot stand are left out, which is counted: then means of two
 * values may be of other company. */
#include "studies/sweep/sweep.h"

enum { QUARTERS = 4, DECIMALS = 4 };

static int n_part(const gradin_varied *v) {
    return v->n_value > 0 ? v->n_value : QUARTERS;
}

static int part_of(const gradin_study *s, int point, int key) {
    char text[GRADIN_VALUE_CHARS];
    double value;
    const gradin_varied *v = &s->varied[key];
    if (v->n_value > 0) return gradin_study_index(s, point, key);
    if (!s->chosen) return (int)(gradin_sobol(point, key) * QUARTERS);
    if (!gradin_study_value(s, point, key, text) || !gradin_parse_number(text, &value)) return 0;
    double part = v->to > v->from ? (value - v->from) / (v->to - v->from) * QUARTERS : 0.0;
    return (int)fmin(fmax(part, 0.0), QUARTERS - 1);
}

static void add_row(const gradin_study *s, const gradin_sweep_row *row, gradin_sweep_effect *e,
                    int *count) {
    e->n_point++;
    for (int i = 0; i < s->n_figure; i++) {
        if (!isfinite(row->figure[i].value)) continue;
        e->mean[i] += row->figure[i].value;
        count[i]++;
    }
}

static void add_swing(gradin_sweep_result *r, int key, const gradin_sweep_effect *e, int n) {
    for (int i = 0; i < r->study->n_figure; i++) {
        double least = INFINITY, most = -INFINITY;
        for (int k = 0; k < n; k++) {
            if (isnan(e[k].mean[i])) continue;
            least = fmin(least, e[k].mean[i]);
            most = fmax(most, e[k].mean[i]);
        }
        r->swing[key * r->study->n_figure + i] = most >= least ? most - least : NAN;
    }
}

static const char *part_text(gradin_arena *arena, const gradin_varied *v, int index) {
    char from[32], to[32];
    double width = (v->to - v->from) / QUARTERS;
    if (v->n_value > 0) return v->value[index];
    gradin_format_fixed(from, sizeof from, v->from + index * width, DECIMALS);
    gradin_format_fixed(to, sizeof to, v->from + (index + 1) * width, DECIMALS);
    return gradin_arena_print(arena, "%s to %s", from, to);
}

static gradin_status add_key(gradin_arena *arena, gradin_sweep_result *r, int key) {
    const gradin_study *s = r->study;
    int n = n_part(&s->varied[key]), n_figure = s->n_figure;
    gradin_sweep_effect *e = &r->effect[r->n_effect];
    int *count = gradin_arena_alloc(arena, (size_t)n * (size_t)n_figure, sizeof *count);
    for (int k = 0; k < n; k++) {
        e[k] = (gradin_sweep_effect){.key = key, .index = k};
        e[k].mean = gradin_arena_alloc(arena, (size_t)n_figure, sizeof *e[k].mean);
        e[k].value = part_text(arena, &s->varied[key], k);
        if (!e[k].mean || !e[k].value || !count) return GRADIN_NO_MEMORY;
    }
    for (int i = 0; i < r->n_row; i++) {
        int k = part_of(s, r->row[i].point, key);
        if (!r->row[i].refused) add_row(s, &r->row[i], &e[k], count + k * n_figure);
    }
    for (int k = 0; k < n; k++)
        for (int i = 0; i < n_figure; i++)
            e[k].mean[i] =
                count[k * n_figure + i] > 0 ? e[k].mean[i] / count[k * n_figure + i] : NAN;
    add_swing(r, key, e, n);
    r->n_effect += n;
    return GRADIN_OK;
}

gradin_status sweep_effects(gradin_arena *arena, gradin_sweep_result *r) {
    const gradin_study *s = r->study;
    size_t n = 0;
    for (int k = 0; k < s->n_varied; k++) n += (size_t)n_part(&s->varied[k]);
    r->effect = gradin_arena_alloc(arena, n, sizeof *r->effect);
    r->swing =
        gradin_arena_alloc(arena, (size_t)s->n_varied * (size_t)s->n_figure, sizeof *r->swing);
    if (!r->effect || !r->swing) return GRADIN_NO_MEMORY;
    gradin_status status = GRADIN_OK;
    for (int k = 0; k < s->n_varied && status == GRADIN_OK; k++) status = add_key(arena, r, k);
    return status;
}
