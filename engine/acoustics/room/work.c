/* What all seats of one noise computation share: transmission of every element, power on every
 * element over time, and their A-weighted sums. */
#include "acoustics/room/work.h"

#include "acoustics/envelope/element.h"

/* ---- memory --------------------------------------------------------------------------------- */

static double **take_table(gradin_arena *arena, int n_row, int n_column) {
    double **row = gradin_arena_alloc(arena, (size_t)n_row, sizeof *row);
    double *cell = gradin_arena_alloc(arena, (size_t)n_row * (size_t)n_column, sizeof *cell);
    if (!row || !cell) return NULL;
    for (int i = 0; i < n_row; i++) row[i] = cell + (size_t)i * (size_t)n_column;
    return row;
}

static bool take_work(gradin_arena *arena, gradin_work *work) {
    size_t n_time = (size_t)work->window.n_time, n_element = (size_t)work->n_element;
    work->incident = gradin_arena_alloc(arena, n_time * n_element, sizeof work->incident[0]);
    for (int side = 0; side < 2; side++)
        work->echo[side] = take_table(arena, work->window.n_time, work->n_element);
    if (!work->incident || !work->echo[0] || !work->echo[1]) return false;
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++) {
        work->tau_m2[state] = gradin_arena_alloc(arena, n_element, sizeof work->tau_m2[0][0]);
        work->let_in[state] = take_table(arena, work->window.n_time, work->n_element);
        for (int side = 0; side < 2; side++) {
            work->reverberant[state][side] = gradin_arena_alloc(arena, n_time, sizeof(double));
            if (!work->reverberant[state][side]) return false;
        }
        if (!work->tau_m2[state] || !work->let_in[state]) return false;
    }
    return true;
}

/* ---- the room against the track -------------------------------------------------------------- */

gradin_vec3 gradin_room_centre_m(const gradin_model *model) {
    gradin_vec2 plan_m = gradin_polygon_centroid_m(model->footprint);
    return (gradin_vec3){plan_m.x, plan_m.y, 0.5 * model->ceiling_m};
}

/* Least distance on plan between the track, an endless line, and the footprint. */
static double plan_distance_m(const gradin_model *model) {
    gradin_vec2 unit = gradin_bearing_unit(model->pass->bearing_deg);
    double low_m = INFINITY, high_m = -INFINITY;
    for (int i = 0; i < model->footprint.n_corner; i++) {
        gradin_vec2 corner_m = model->footprint.corner_m[i];
        double side_m = (corner_m.x - model->pass->point_m.x) * unit.y -
                        (corner_m.y - model->pass->point_m.y) * unit.x;
        low_m = fmin(low_m, side_m);
        high_m = fmax(high_m, side_m);
    }
    return fmax(fmax(low_m, -high_m), 0.0);
}

/* Weighted maximum over the window at the point of the room nearest the track, abeam at time 0. */
static double outside_level_a_db(const gradin_model *model, const gradin_source *source,
                                 const gradin_work *work, double *square) {
    double z_m = model->pass->point_m.z;
    double apart_m = fmax(fmax(z_m - model->ceiling_m, -z_m), 0.0);
    double side_m = hypot(plan_distance_m(model), apart_m);
    for (int t = 0; t < work->window.n_time; t++) {
        double band[GRADIN_N_BAND], ahead_m = -model->pass->speed_ms * work->window.time_s[t];
        gradin_source_free_field(source, hypot(side_m, ahead_m), band);
        gradin_source_turn(source,
                           gradin_add(gradin_scale(source->heading, ahead_m),
                                      (gradin_vec3){0.0, 0.0, fmax(side_m, 1e-3)}),
                           band);
        for (int b = 0; b < GRADIN_N_BAND; b++) band[b] = 10.0 * log10(band[b]);
        square[t] = pow(10.0, 0.1 * gradin_level_a_db(band));
    }
    return 10.0 * log10(gradin_weighted_peak(&work->history, square, work->tau_s).square);
}

static double facade_area_m2(const gradin_model *model) {
    const double only_vents_m2 = 10.0; /* cancels in D2m,nT */
    double area_m2 = 0.0;
    for (int e = 0; e < model->n_element; e++)
        area_m2 += gradin_element_area_m2(&model->element[e]);
    return area_m2 > 0.0 ? area_m2 : only_vents_m2;
}

/* ---- powers --------------------------------------------------------------------------------- */

static void fill_tau(const gradin_model *model, const gradin_glass *glass, gradin_work *work) {
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
        for (int e = 0; e < work->n_element; e++)
            gradin_element_tau_m2(model, &model->element[e], &glass[e], (gradin_shade_state)state,
                                  work->tau_m2[state][e]);
}

static void fill_incident(const gradin_model *model, const gradin_source *source,
                          gradin_work *work) {
    for (int t = 0; t < work->window.n_time; t++) {
        gradin_vec3 source_m = gradin_window_source_m(&work->window, work->window.time_s[t]);
        for (int e = 0; e < work->n_element; e++)
            gradin_source_incident(source, source_m, &model->element[e],
                                   work->incident[(size_t)t * (size_t)work->n_element + (size_t)e]);
    }
}

static void sum_element(gradin_work *work, int state, int t, int e, int from) {
    const double *incident = work->incident[(size_t)t * (size_t)work->n_element + (size_t)e];
    const double *tau_m2 = work->tau_m2[state][e];
    double let_in = 0.0, echo[2] = {0.0, 0.0};
    for (int b = 0; b < GRADIN_N_BAND; b++) {
        double power = work->a_weight[b] * incident[b] * tau_m2[b];
        let_in += power;
        for (int side = 0; side < 2; side++)
            echo[side] += power * work->field[state].reverberant_1m2[side][from][b];
    }
    work->let_in[state][t][e] = let_in;
    for (int side = 0; side < 2; side++) {
        work->reverberant[state][side][t] += echo[side];
        if (state == GRADIN_SHADES_AS_SET) work->echo[side][t][e] = echo[side];
    }
}

static void sum_powers(const gradin_model *model, gradin_work *work) {
    for (int b = 0; b < GRADIN_N_BAND; b++)
        work->a_weight[b] = pow(10.0, 0.1 * gradin_a_weight_db(gradin_band_mid_hz(b)));
    for (int state = 0; state < GRADIN_N_SHADE_STATE; state++)
        for (int t = 0; t < work->window.n_time; t++)
            for (int e = 0; e < work->n_element; e++)
                sum_element(work, state, t, e, gradin_element_side(model, &model->element[e]));
}

gradin_status gradin_work_make(gradin_arena *arena, const gradin_model *model,
                               const gradin_glass *glass, gradin_work *work, gradin_error *error) {
    *work = (gradin_work){.n_element = model->n_element, .area_m2 = facade_area_m2(model)};
    gradin_status status =
        gradin_window_make(arena, model->pass, gradin_room_centre_m(model), &work->window, error);
    for (int state = 0; status == GRADIN_OK && state < GRADIN_N_SHADE_STATE; state++)
        status =
            gradin_room_field_make(model, (gradin_shade_state)state, &work->field[state], error);
    if (status != GRADIN_OK) return status;
    if (!take_work(arena, work))
        return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    double *square = gradin_arena_alloc(arena, (size_t)work->window.n_time, sizeof *square);
    if (!square) return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
    gradin_shape building;
    gradin_source source = gradin_source_make(model->pass);
    if (gradin_building_make(model, &building)) source.building = &building;
    work->history = (gradin_history){work->window.n_time, work->window.time_s, 0.0};
    work->tau_s = gradin_weighting_s(model->pass->weighting);
    work->outside_lamax_db = outside_level_a_db(model, &source, work, square);
    fill_tau(model, glass, work);
    fill_incident(model, &source, work);
    sum_powers(model, work);
    return GRADIN_OK;
}
