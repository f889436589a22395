/* One layout assessed: what every seat sees, what every seat hears of an overflight, and the
 * figures that sum the seats up. */
#include "base/use.h"
#include "gradin/acoustics/event.h"
#include "gradin/studies.h"
#include "model/complete.h"
#include "studies/shared/complete.h"

#include "studies/shared/bands.h"
#include "studies/shared/levels.h"
#include "studies/shared/spread.h"
#include "studies/shared/worst.h"

#include <string.h>

static gradin_status spread_sight(gradin_arena *arena, gradin_assessment *a) {
    const gradin_sight *s = &a->sight;
    gradin_status status = studies_spread(arena, s->visible, s->n_seat, &a->visible);
    if (status == GRADIN_OK) status = studies_spread(arena, s->c_m, s->n_seat, &a->c_value_m);
    if (status == GRADIN_OK)
        status = studies_spread(arena, s->distance_m, s->n_seat, &a->distance_m);
    return status;
}

static gradin_status spread_areas(gradin_arena *arena, gradin_assessment *a) {
    const gradin_sight *s = &a->sight;
    size_t n_area = s->n_area > 1 ? (size_t)s->n_area : 0, n_seat = (size_t)s->n_seat;
    if (n_area == 0) return GRADIN_OK;
    a->area = gradin_arena_alloc(arena, n_area, sizeof *a->area);
    if (!a->area) return GRADIN_NO_MEMORY;
    gradin_status status = GRADIN_OK;
    for (size_t k = 0; k < n_area && status == GRADIN_OK; k++) {
        double *visible = gradin_arena_alloc(arena, n_seat, sizeof *visible);
        if (!visible) return GRADIN_NO_MEMORY;
        for (size_t i = 0; i < n_seat; i++) visible[i] = s->area_visible[i * n_area + k];
        a->area[k].visible = visible;
        status = studies_spread(arena, visible, s->n_seat, &a->area[k].spread);
    }
    a->n_area = s->n_area;
    return status;
}

static gradin_status spread_noise(gradin_arena *arena, gradin_assessment *a) {
    const gradin_noise *noise = &a->noise;
    int n_seat = a->has_noise ? noise->n_seat : 0;
    gradin_status status = GRADIN_OK;
    for (int k = 0; k < GRADIN_N_SHADE_STATE && status == GRADIN_OK; k++)
        status = studies_spread(arena, noise->lamax_db[k], n_seat, &a->lamax_db[k]);
    if (status == GRADIN_OK) status = studies_spread(arena, noise->nc, n_seat, &a->nc);
    if (status == GRADIN_OK)
        status = studies_spread(arena, noise->systematic_db, n_seat, &a->systematic);
    if (status == GRADIN_OK && noise->lamax_predicted_db)
        status = studies_spread(arena, noise->lamax_predicted_db, n_seat, &a->predicted_db);
    if (status == GRADIN_OK && a->has_noise && studies_has_shades(a->model))
        status = studies_difference(arena, noise->lamax_db[GRADIN_SHADES_OPEN],
                                    noise->lamax_db[GRADIN_SHADES_SHUT], n_seat, &a->shade_gain_db,
                                    &a->shade_gain);
    return status;
}

static void count_verdicts(gradin_assessment *a) {
    for (int i = 0; a->has_noise && i < a->noise.n_seat; i++) a->n_verdict[a->noise.verdict[i]]++;
}

static gradin_status sum_up(gradin_arena *arena, gradin_assessment *a, gradin_error *error) {
    a->n_worst = studies_worst(&a->sight, a->worst_seat);
    count_verdicts(a);
    gradin_status status = spread_sight(arena, a);
    if (status == GRADIN_OK) status = spread_areas(arena, a);
    if (status == GRADIN_OK) status = studies_levels(arena, a->model, &a->sight, &a->level);
    if (status == GRADIN_OK) status = spread_noise(arena, a);
    if (status == GRADIN_OK && a->has_crowd)
        status = studies_spread(arena, a->crowd.clear, a->crowd.n_seat, &a->clear_view);
    if (status == GRADIN_OK) return GRADIN_OK;
    return gradin_error_add(error, status, NULL, "no memory for the spreads");
}

static gradin_status draw_crowd(gradin_arena *arena, const gradin_model *model,
                                const gradin_sight_options *options, gradin_assessment *a,
                                gradin_error *error) {
    const gradin_crowd_options crowd = {.n_draw = options->n_draw,
                                        .n_sample = options->n_sample,
                                        .progress = options->progress,
                                        .progress_user = options->progress_user};
    gradin_status status = gradin_crowd_compute(arena, model, &crowd, &a->crowd, error);
    a->has_crowd = status == GRADIN_OK;
    return status;
}

gradin_status gradin_assess(gradin_arena *arena, const gradin_model *model,
                            const gradin_assess_options *options, gradin_assessment *assessment,
                            gradin_error *error) {
    const gradin_sight_options *sight = options ? &options->sight : NULL;
    if (NEEDS(error, arena, assessment) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    memset(assessment, 0, sizeof *assessment);
    assessment->model = model;
    gradin_status status = gradin_sight_compute(arena, model, sight, &assessment->sight, error);
    if (status != GRADIN_OK) return status;
    if (sight && sight->n_draw > 0) {
        status = draw_crowd(arena, model, sight, assessment, error);
        if (status == GRADIN_OK)
            status = gradin_sight_rate(model, &assessment->crowd, &assessment->sight, error);
        if (status != GRADIN_OK) return status;
    }
    if (model->pass && model->n_element > 0) {
        status =
            gradin_noise_compute_kept(arena, model, options ? options->room_cache : NULL,
                                      options ? options->kept : NULL, &assessment->noise, error);
        if (status == GRADIN_OK)
            status =
                gradin_facade_rank(arena, model, &assessment->noise, &assessment->facade, error);
        if (status != GRADIN_OK) return status;
        assessment->has_noise = true;
    }
    return sum_up(arena, assessment, error);
}

gradin_status gradin_assess_bands(gradin_arena *arena, gradin_assessment *assessment,
                                  const gradin_band_choice *choice, gradin_error *error) {
    if (NEEDS(error, arena, choice) != GRADIN_OK ||
        assessment_complete(assessment, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    if (!assessment->has_noise)
        return gradin_error_add(error, GRADIN_BAD_USE, NULL,
                                "levels by band need an overflight and a facade");
    const gradin_noise *noise = &assessment->noise;
    return gradin_band_levels(arena, noise->band_db, noise->n_seat, &assessment->model->criterion,
                              &noise->uncertainty, &noise->gaps, choice, &assessment->band,
                              &assessment->n_band, error);
}
