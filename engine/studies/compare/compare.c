/* Layouts compared: the first beside each other one seat by seat, all of them as wholes, and the
 * changeovers between each two. */
#include "studies/compare/compare.h"
#include "base/use.h"
#include "studies/changeover/least.h"
#include "studies/shared/complete.h"

#include <stdio.h>
#include <string.h>

static gradin_status no_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "no memory for a comparison");
}

static gradin_status check(const gradin_assessment *const *assessment, int n,
                           const gradin_compare_options *options, gradin_error *error) {
    if (n < 2 || n > GRADIN_MAX_COMPARED)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "%d layouts; 2 to %d are compared", n,
                                GRADIN_MAX_COMPARED);
    if (options && ((int)options->by < 0 || options->by >= GRADIN_N_MATCH_BY))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "no rule to match seats by");
    for (int i = 0; i < n; i++) {
        const gradin_assessment *a = assessment[i];
        gradin_status status = assessment_tables_complete(a, error);
        if (status == GRADIN_OK && a->has_noise)
            status = NEEDS(error, a->noise.band_db, a->noise.lamax_db[GRADIN_SHADES_AS_SET]);
        if (status != GRADIN_OK) return status;
    }
    return GRADIN_OK;
}

static int place_of(const gradin_comparison *c, const char *name) {
    int k = 0;
    while (k < c->n_block && strcmp(c->block_name[k], name) != 0) k++;
    return k;
}

/* The blocks of all layouts in one list; *block_of[i] [n_block of layout i] their places in it. */
static gradin_status list_blocks(gradin_arena *arena, gradin_comparison *c, int **block_of) {
    int n_most = 0;
    for (int i = 0; i < c->n_layout; i++) n_most += c->layout[i].assessment->model->n_block;
    c->block_name = gradin_arena_alloc(arena, (size_t)n_most, sizeof *c->block_name);
    if (!c->block_name) return GRADIN_NO_MEMORY;
    for (int i = 0; i < c->n_layout; i++) {
        const gradin_model *model = c->layout[i].assessment->model;
        block_of[i] = gradin_arena_alloc(arena, (size_t)model->n_block, sizeof(int));
        if (!block_of[i]) return GRADIN_NO_MEMORY;
        for (int k = 0; k < model->n_block; k++) {
            block_of[i][k] = place_of(c, model->block_name[k]);
            if (block_of[i][k] == c->n_block) c->block_name[c->n_block++] = model->block_name[k];
        }
    }
    return GRADIN_OK;
}

static bool are_same(const double *a, const double *b) {
    for (int i = 0; i < 3; i++)
        if (!(a[i] == b[i]) && !(isnan(a[i]) && isnan(b[i]))) return false;
    return true;
}

static void compare_limits(const gradin_model *a, const gradin_model *b,
                           gradin_compared_pair *pair) {
    const gradin_limits *l = &a->limits, *m = &b->limits;
    const double *const limit[2][GRADIN_N_REASON] = {
        {l->visible_min, l->visible_min, l->clear_view_min, l->c_value_min_m, l->distance_max_m,
         l->off_axis_max_deg, l->down_max_deg, l->turn_max_deg},
        {m->visible_min, m->visible_min, m->clear_view_min, m->c_value_min_m, m->distance_max_m,
         m->off_axis_max_deg, m->down_max_deg, m->turn_max_deg}};
    for (int k = GRADIN_REASON_VISIBLE; k < (int)GRADIN_N_REASON; k++) {
        bool is_counted = !l->is_left_out[k] || !m->is_left_out[k];
        pair->is_limit_other[k] = l->is_left_out[k] != m->is_left_out[k] ||
                                  (is_counted && !are_same(limit[0][k], limit[1][k]));
    }
    const double first[3] = {a->criterion.nc, a->criterion.lamax_dba, a->criterion.confidence};
    const double second[3] = {b->criterion.nc, b->criterion.lamax_dba, b->criterion.confidence};
    pair->is_criterion_other = !are_same(first, second);
    pair->is_other_venue = strcmp(a->venue_name, b->venue_name) != 0;
}

static gradin_status compare_pair(gradin_arena *arena, const gradin_comparison *c,
                                  gradin_match_by by, int *const *block_of,
                                  gradin_compared_pair *pair, gradin_error *error) {
    const gradin_assessment *const side[2] = {c->layout[pair->first].assessment,
                                              c->layout[pair->second].assessment};
    const int *const blocks[2] = {block_of[pair->first], block_of[pair->second]};
    compare_partners partners;
    gradin_status status =
        compare_match(arena, side[0]->model, side[1]->model, by, &partners, pair, error);
    if (status != GRADIN_OK) return status;
    pair->common = compare_common_noise(side[0], side[1]);
    compare_limits(side[0]->model, side[1]->model, pair);
    status = compare_changes(arena, side[0], side[1], &partners, pair);
    if (status == GRADIN_OK) status = compare_change_sums(arena, side, blocks, c->n_block, pair);
    return status == GRADIN_OK ? GRADIN_OK : no_memory(error);
}

/* A changeover that cannot be planned says why; only a lack of memory ends it all. */
static gradin_status plan(gradin_arena *arena, const gradin_model *from, const gradin_model *to,
                          int n_node, gradin_compared_changeover *way, gradin_error *error) {
    gradin_error own = {0};
    gradin_status status = changeover_plan_of_many(arena, from, to, n_node, &way->plan, &own);
    way->is_planned = status == GRADIN_OK;
    if (status == GRADIN_NO_MEMORY) return no_memory(error);
    if (status != GRADIN_OK)
        snprintf(way->why_not, sizeof way->why_not, "%s",
                 own.n_diagnostic > 0 ? own.diagnostic[0].text : gradin_status_name(status));
    return GRADIN_OK;
}

typedef struct ways {
    gradin_comparison *c;
    int n_node;
} ways;

/* Way k of n x n; none from a layout to itself. */
static gradin_status plan_way(void *user, int k, gradin_arena *arena, gradin_error *error) {
    const ways *w = user;
    gradin_comparison *c = w->c;
    int n = c->n_layout;
    if (k / n == k % n) return GRADIN_OK;
    return plan(arena, c->layout[k / n].assessment->model, c->layout[k % n].assessment->model,
                w->n_node, &c->changeover[k], error);
}

static gradin_status plan_all(gradin_arena *arena, const gradin_compare_options *options,
                              gradin_comparison *c, gradin_error *error) {
    int n = c->n_layout;
    ways w = {c, options ? options->n_node : 0};
    c->changeover = gradin_arena_alloc(arena, (size_t)(n * n), sizeof *c->changeover);
    if (!c->changeover) return no_memory(error);
    if (!options || !options->is_without_changeovers)
        return gradin_for_each(arena, n * n, plan_way, &w, error);
    for (int k = 0; k < n * n; k++)
        if (k / n != k % n) snprintf(c->changeover[k].why_not, GRADIN_TEXT_CHARS, "not asked for");
    return GRADIN_OK;
}

static gradin_status compare_all(gradin_arena *arena, const gradin_compare_options *options,
                                 gradin_comparison *c, gradin_error *error) {
    int *block_of[GRADIN_MAX_COMPARED];
    gradin_status status = list_blocks(arena, c, block_of);
    for (int i = 0; i < c->n_layout && status == GRADIN_OK; i++)
        status = compare_seat_sums(arena, c->layout[i].assessment, block_of[i], c->n_block,
                                   &c->layout[i]);
    if (status != GRADIN_OK) return no_memory(error);
    for (int i = 1; i < c->n_layout && status == GRADIN_OK; i++) {
        c->pair[i - 1] = (gradin_compared_pair){.first = 0, .second = i};
        status = compare_pair(arena, c, options ? options->by : GRADIN_MATCH_NAME, block_of,
                              &c->pair[i - 1], error);
    }
    if (status == GRADIN_OK) status = plan_all(arena, options, c, error);
    if (status == GRADIN_OK) compare_front(c);
    return status;
}

gradin_status gradin_compare(gradin_arena *arena, const gradin_assessment *const *assessment, int n,
                             const gradin_compare_options *options, gradin_comparison *comparison,
                             gradin_error *error) {
    if (NEEDS(error, arena, assessment, comparison) != GRADIN_OK ||
        check(assessment, n, options, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    *comparison = (gradin_comparison){
        .n_layout = n,
        .layout = gradin_arena_alloc(arena, (size_t)n, sizeof *comparison->layout),
        .pair = gradin_arena_alloc(arena, (size_t)n - 1, sizeof *comparison->pair)};
    if (!comparison->layout || !comparison->pair) return no_memory(error);
    for (int i = 0; i < n; i++) comparison->layout[i].assessment = assessment[i];
    return compare_all(arena, options, comparison, error);
}
