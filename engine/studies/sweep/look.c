/* What the seats of a point see. Ratings carry what samples leave open: three standard errors
 * (studies/choose/house.c has their source). */
#include "studies/choose/choose.h"
#include "studies/sweep/sweep.h"

#include "studies/shared/spread.h"

#include <stdlib.h>
#include <string.h>

/* What was seen last: points that differ only in what counts as seeing well take it from there. */
struct gradin_sweep_rays {
    gradin_arena *arena; /* of `seen`, for which the model is one that is gone */
    char key[33];        /* "" when there is nothing */
    gradin_assessment seen;
};

typedef struct ratings {
    double n[GRADIN_N_RATING];
    int n_seat;
} ratings;

static ratings count(const gradin_rating *rating, int n_seat) {
    ratings r = {.n_seat = n_seat};
    for (int i = 0; i < n_seat; i++) r.n[rating[i]] += 1.0;
    return r;
}

/* Of three ratings: with all samples worse, as they are, better. */
static gradin_known of_three(const ratings r[3], gradin_rating first, gradin_rating last,
                             double scale) {
    double sum[3] = {0.0, 0.0, 0.0};
    for (int k = 0; k < 3; k++)
        for (int i = (int)first; i <= (int)last; i++) sum[k] += scale * r[k].n[i];
    return sweep_between(sum[0], sum[1], sum[2]);
}

static void set_ratings(const ratings r[3], gradin_known *figure) {
    double share = r[1].n_seat > 0 ? 1.0 / r[1].n_seat : 0.0;
    static const gradin_study_figure of[GRADIN_N_RATING] = {GRADIN_STUDY_CLEAR, GRADIN_STUDY_GOOD,
                                                            GRADIN_STUDY_FAIR, GRADIN_STUDY_POOR};
    for (int i = 0; i < GRADIN_N_RATING; i++)
        figure[of[i]] = of_three(r, (gradin_rating)i, (gradin_rating)i, 1.0);
    figure[GRADIN_STUDY_CLEAR_SHARE] = of_three(r, GRADIN_RATING_CLEAR, GRADIN_RATING_CLEAR, share);
    figure[GRADIN_STUDY_GOOD_SHARE] = of_three(r, GRADIN_RATING_CLEAR, GRADIN_RATING_GOOD, share);
    figure[GRADIN_STUDY_POOR_SHARE] = of_three(r, GRADIN_RATING_POOR, GRADIN_RATING_POOR, share);
}

static void set_spreads(const gradin_assessment *a, gradin_known *figure) {
    const double mm = 1000.0;
    figure[GRADIN_STUDY_SEATS] = sweep_certain(a->model->seats.n_seat);
    figure[GRADIN_STUDY_WHEELCHAIRS] = sweep_certain(a->model->seats.n_wheelchair);
    figure[GRADIN_STUDY_VISIBLE_P10] = sweep_certain(a->visible.p10);
    figure[GRADIN_STUDY_VISIBLE_MEDIAN] = sweep_certain(a->visible.median);
    figure[GRADIN_STUDY_C_P10] = sweep_certain(mm * a->c_value_m.p10);
    figure[GRADIN_STUDY_C_MEDIAN] = sweep_certain(mm * a->c_value_m.median);
    figure[GRADIN_STUDY_C_P90] = sweep_certain(mm * a->c_value_m.p90);
    figure[GRADIN_STUDY_DISTANCE_P90] = sweep_certain(a->distance_m.p90);
    figure[GRADIN_STUDY_DISTANCE_MOST] = sweep_certain(a->distance_m.most);
}

void sweep_rays_destroy(struct gradin_sweep_rays *rays) {
    if (rays) gradin_arena_destroy(rays->arena);
    free(rays);
}

static gradin_status trace(const sweep_work *w, gradin_arena *arena, const gradin_model *model,
                           gradin_assessment *a) {
    gradin_assess_options how = {.sight = {.n_sample = w->sweep->options.n_sample}};
    w->sweep->n_worked[GRADIN_STAGE_RAYS]++;
    return gradin_assess(arena, model, &how, a, w->error);
}

/* NULL without memory. */
static struct gradin_sweep_rays *empty_rays(gradin_sweep *sweep) {
    sweep_rays_destroy(sweep->rays);
    sweep->rays = calloc(1, sizeof *sweep->rays);
    if (sweep->rays) sweep->rays->arena = gradin_arena_create();
    return sweep->rays && sweep->rays->arena ? sweep->rays : NULL;
}

/* Traced, or from the point before. */
static gradin_status see(const sweep_work *w, const gradin_model *model, gradin_assessment *a) {
    char key[33];
    struct gradin_sweep_rays *rays = w->sweep->rays;
    if (w->sweep->options.is_from_scratch ||
        !sweep_key(w->sweep->study, w->point, GRADIN_STAGE_RAYS, key))
        return trace(w, w->arena, model, a);
    if (!rays || strcmp(rays->key, key) != 0) {
        rays = empty_rays(w->sweep);
        if (!rays) return gradin_error_add(w->error, GRADIN_NO_MEMORY, NULL, "out of memory");
        gradin_status status = trace(w, rays->arena, model, &rays->seen);
        if (status != GRADIN_OK) return status;
        memcpy(rays->key, key, sizeof key);
    }
    *a = rays->seen;
    a->model = model;
    return GRADIN_OK;
}

gradin_status sweep_look(const sweep_work *w, gradin_known *figure) {
    gradin_assessment a;
    gradin_model model = w->inputs->model;
    model.pass = NULL; /* what is heard is another stage */
    gradin_status status = see(w, &model, &a);
    if (status != GRADIN_OK) return status;
    const gradin_rating *rating[3] = {choose_ratings(w->arena, &a, -CHOOSE_ENDS, w->error),
                                      choose_ratings(w->arena, &a, 0.0, w->error),
                                      choose_ratings(w->arena, &a, CHOOSE_ENDS, w->error)};
    if (!rating[0] || !rating[1] || !rating[2])
        return gradin_error_add(w->error, GRADIN_NO_MEMORY, NULL, "out of memory");
    ratings r[3];
    for (int k = 0; k < 3; k++) r[k] = count(rating[k], a.sight.n_seat);
    set_ratings(r, figure);
    set_spreads(&a, figure);
    return GRADIN_OK;
}
