/* Which layout a show is played in: the rooms' figures of every layout, then what the show makes of
 * them. Nothing is worked out twice: of sight one assessment, of traffic one season of counts, of
 * each partner's changeovers one plan per way. */
#include "studies/choose/choose.h"
#include "base/use.h"
#include "model/complete.h"

#include <string.h>

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

/* Shades where the show wants them, on the facade and on their drives. */
static bool set_shades(gradin_arena *arena, const gradin_show *show, gradin_model *m,
                       gradin_machinery *machinery) {
    gradin_shade *shade = gradin_arena_alloc(arena, (size_t)m->n_shade, sizeof *shade);
    size_t n = machinery ? (size_t)machinery->n_machine : 0;
    gradin_machine *machine = gradin_arena_alloc(arena, n, sizeof *machine);
    if (!shade || !machine) return false;
    for (int i = 0; i < m->n_shade; i++) {
        shade[i] = m->shade[i];
        shade[i].closed = show->shades;
    }
    for (size_t i = 0; i < n; i++) {
        machine[i] = machinery->machine[i];
        if (machine[i].kind == GRADIN_MACHINE_SHADE) machine[i].setting.position = show->shades;
    }
    m->shade = shade;
    if (machinery) machinery->machine = machine;
    return true;
}

/* The model as the show has it. Its overflight is no part of the show: the traffic is. */
static const gradin_model *as_shown(gradin_arena *arena, const gradin_show *show,
                                    const gradin_model *model, bool is_own) {
    gradin_model *m = gradin_arena_alloc(arena, 1, sizeof *m);
    gradin_machinery *machinery = gradin_arena_alloc(arena, 1, sizeof *machinery);
    if (!m || !machinery) return NULL;
    *m = *model;
    m->pass = NULL;
    if (m->machinery) {
        *machinery = *m->machinery;
        if (show->crew > 0) machinery->crew = show->crew;
        m->machinery = machinery;
    }
    if (!is_own || show->shades < 0) return m;
    return set_shades(arena, show, m, m->machinery ? machinery : NULL) ? m : NULL;
}

typedef struct job {
    gradin_arena *arena;
    const gradin_show *show;
    const gradin_model *partner; /* [n_partner] as the show has them */
    const gradin_traffic *traffic;
    gradin_choose_options how;
    gradin_error *error;
} job;

/* Kept: of this layout, or NULL. */
static gradin_status work_out(const job *j, const gradin_model *model, gradin_kept_room *kept,
                              gradin_candidate *c) {
    gradin_assess_options assess = {.sight = j->how.sight, .room_cache = j->how.room_cache};
    for (int k = 0; k < GRADIN_N_ASK; k++) c->figure[k] = choose_no_figure();
    c->model = as_shown(j->arena, j->show, model, true);
    if (!c->model) return out_of_memory(j->error);
    c->lacks_shades = j->show->shades >= 0 && c->model->n_shade == 0;
    gradin_status status = gradin_assess(j->arena, c->model, &assess, &c->assessment, j->error);
    if (status == GRADIN_OK) status = choose_look(j->arena, j->show, c, j->error);
    if (status == GRADIN_OK && j->traffic)
        status = choose_listen(j->arena, j->show, j->traffic, j->how.room_cache, kept, c, j->error);
    if (status == GRADIN_OK)
        status = choose_share(j->arena, j->show, j->partner, &j->how, c, j->error);
    if (status != GRADIN_OK) return status;
    choose_musts(j->show, c);
    choose_worths(j->show, c);
    return GRADIN_OK;
}

static gradin_status ready_partners(job *j, const gradin_model *partner) {
    size_t n = (size_t)j->show->n_partner;
    gradin_model *ready = gradin_arena_alloc(j->arena, n, sizeof *ready);
    if (!ready) return out_of_memory(j->error);
    for (size_t k = 0; k < n; k++) {
        const gradin_model *m = as_shown(j->arena, j->show, &partner[k], false);
        if (!m) return out_of_memory(j->error);
        ready[k] = *m;
    }
    j->partner = ready;
    return GRADIN_OK;
}

static bool is_other_venue(const gradin_model *a, const gradin_model *b) {
    return strcmp(a->venue_name, b->venue_name) != 0;
}

static gradin_status check_models(const gradin_show *show, const gradin_model *model, int n,
                                  const gradin_model *partner, const gradin_traffic *traffic,
                                  gradin_error *error) {
    for (int i = 0; i < n; i++) {
        if (model_complete(&model[i], error) != GRADIN_OK) return GRADIN_BAD_USE;
        if (is_other_venue(&model[0], &model[i]))
            return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                    "%s and %s are layouts of two venues", model[0].layout_name,
                                    model[i].layout_name);
        if (traffic && model[i].n_element == 0)
            return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                    "%s has no facade that lets traffic in", model[i].layout_name);
    }
    for (int k = 0; k < show->n_partner; k++) {
        if (model_complete(&partner[k], error) != GRADIN_OK) return GRADIN_BAD_USE;
        if (is_other_venue(&model[0], &partner[k]))
            return gradin_error_add(error, GRADIN_BAD_INPUT, NULL,
                                    "the layout of %s is one of another venue",
                                    show->partner[k].name);
    }
    return GRADIN_OK;
}

static bool has_block(const gradin_model *model, int n, const char *name) {
    for (int i = 0; i < n; i++)
        for (int k = 0; k < model[i].n_block; k++)
            if (strcmp(model[i].block_name[k], name) == 0) return true;
    return false;
}

/* A slip in a block's name would sell its seats at another price. */
static gradin_status check_blocks(const gradin_show *show, const gradin_model *model, int n,
                                  gradin_error *error) {
    for (int k = 0; k < show->n_price; k++)
        for (int i = 0; i < show->price[k].n_block; i++)
            if (!has_block(model, n, show->price[k].block[i]))
                return gradin_error_add(error, GRADIN_BAD_INPUT, show->price[k].at,
                                        "no layout has a block '%s'", show->price[k].block[i]);
    return GRADIN_OK;
}

static bool asks_for_noise(const gradin_show *show) {
    bool asks = !isnan(show->events) || (!isnan(show->words_lost_a_show_s) && !show->is_amplified);
    for (int k = 0; k < show->n_wished; k++)
        asks = asks || show->wished[k].ask == GRADIN_ASK_EVENTS ||
               (show->wished[k].ask == GRADIN_ASK_WORDS && !show->is_amplified);
    return asks;
}

static bool is_well_made(const gradin_show *s) {
    bool good = s->n_partner >= 0 && s->n_partner <= GRADIN_MAX_PARTNER && s->n_price >= 0 &&
                s->n_price <= GRADIN_MAX_PRICE && s->n_wished >= 0 &&
                s->n_wished <= GRADIN_MAX_WISHED && s->n_start >= 0 &&
                s->n_start <= GRADIN_MAX_SHOW_START && s->confidence >= 0.5 &&
                s->confidence < 1.0 && s->percentile >= 0.0 && s->percentile <= 100.0 &&
                s->shades >= -1 && s->shades <= 1 && (isnan(s->events) || !isnan(s->limit_dba));
    for (int k = 0; good && k < s->n_wished; k++)
        good = s->wished[k].ask < GRADIN_N_ASK && s->wished[k].weight >= 0.0 &&
               s->wished[k].nothing_at != s->wished[k].full_at;
    return good;
}

static gradin_status check_use(const gradin_show *show, const gradin_model *model, int n,
                               const gradin_model *partner, const gradin_traffic *traffic,
                               gradin_error *error) {
    if (!is_well_made(show) || n < 1 || n > GRADIN_MAX_CANDIDATE)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "a show with its wishes' ends apart, and 1 to %d layouts",
                                GRADIN_MAX_CANDIDATE);
    if ((show->n_partner > 0 && NEEDS(error, partner, show->partner) != GRADIN_OK) ||
        (show->n_price > 0 && NEEDS(error, show->price) != GRADIN_OK) ||
        (show->n_wished > 0 && NEEDS(error, show->wished) != GRADIN_OK) ||
        (asks_for_noise(show) && NEEDS(error, traffic) != GRADIN_OK))
        return GRADIN_BAD_USE;
    if (traffic && (traffic->n_event < 1 || !traffic->event))
        return gradin_error_add(error, GRADIN_BAD_USE, NULL, "a season needs at least one event");
    gradin_status status = check_models(show, model, n, partner, traffic, error);
    return status == GRADIN_OK ? check_blocks(show, model, n, error) : status;
}

static bool has_other_limits(const gradin_model *a, const gradin_model *b) {
    const gradin_limits *p = &a->limits, *q = &b->limits;
    const double *x[] = {p->visible_min,    p->clear_view_min,   p->c_value_min_m,
                         p->distance_max_m, p->off_axis_max_deg, p->down_max_deg,
                         p->turn_max_deg,   p->head_gap_min_deg, p->two_row_c_min_m};
    const double *y[] = {q->visible_min,    q->clear_view_min,   q->c_value_min_m,
                         q->distance_max_m, q->off_axis_max_deg, q->down_max_deg,
                         q->turn_max_deg,   q->head_gap_min_deg, q->two_row_c_min_m};
    for (size_t k = 0; k < sizeof x / sizeof *x; k++)
        for (int i = 0; i < 3; i++)
            if (x[k][i] != y[k][i] && !(isnan(x[k][i]) && isnan(y[k][i]))) return true;
    return memcmp(p->is_left_out, q->is_left_out, sizeof p->is_left_out) != 0;
}

gradin_status gradin_choose(gradin_arena *arena, const gradin_show *show, const gradin_model *model,
                            int n, const gradin_model *partner, const gradin_traffic *traffic,
                            const gradin_choose_options *options, gradin_choice *choice,
                            gradin_error *error) {
    if (NEEDS(error, arena, show, model, choice) != GRADIN_OK ||
        NEEDS(error, show->name) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = check_use(show, model, n, partner, traffic, error);
    if (status != GRADIN_OK) return status;
    memset(choice, 0, sizeof *choice);
    choice->show = show;
    choice->traffic = asks_for_noise(show) ? traffic : NULL;
    choice->n_candidate = n;
    choice->candidate = gradin_arena_alloc(arena, (size_t)n, sizeof *choice->candidate);
    if (!choice->candidate) return out_of_memory(error);
    job j = {.arena = arena, .show = show, .traffic = choice->traffic, .error = error};
    if (options) j.how = *options;
    status = ready_partners(&j, partner);
    for (int i = 0; i < n && status == GRADIN_OK; i++) {
        gradin_kept_room *kept = j.how.kept ? &j.how.kept[i] : NULL;
        status = work_out(&j, &model[i], kept, &choice->candidate[i]);
        choice->are_limits_other |= has_other_limits(&model[0], &model[i]);
    }
    if (status != GRADIN_OK) return status;
    choose_order(choice);
    choose_draw(choice);
    choose_weights(choice);
    return GRADIN_OK;
}
