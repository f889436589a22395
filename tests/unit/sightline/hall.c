/* Models built by hand for the tests of the sightline room. */
#include "unit/sightline/hall.h"
#include "support/whole.h"

#include <criterion/criterion.h>
#include <string.h>

void hall_start(hall *h) {
    memset(h, 0, sizeof *h);
    gradin_limits *l = &h->model.limits;
    for (int k = 0; k < 3; k++)
        l->visible_min[k] = l->c_value_min_m[k] = l->distance_max_m[k] = l->off_axis_max_deg[k] =
            l->down_max_deg[k] = l->turn_max_deg[k] = NAN;
    static const char *const name[8] = {"people", "one", "two", "three", "four", "five"};
    memcpy(h->name, name, sizeof name);
    h->model.seats = (gradin_seats){.floor_m = h->floor_m,
                                    .eye_m = h->eye_m,
                                    .kind = h->kind,
                                    .row = h->row,
                                    .facing_deg = h->facing_deg,
                                    .width_m = h->width_m,
                                    .depth_m = h->depth_m};
    h->model.audience.head_breadth_m = 0.155;
    h->model.audience.standing_eye_height_m = 1.57;
    h->model.audience.crown_m = 0.11;
    h->model.axis_deg = 0.0;
    h->model.focus = h->focus;
    h->model.scene.occluder = h->occluder;
    h->model.occluder_name = h->name;
    h->model.n_occluder_name = 6;
    whole_model(&h->model);
}

void hall_focus(hall *h, double x, double y, double width_m, double depth_m, double z_m,
                double weight) {
    int a = h->model.n_focus++;
    gradin_rectangle_corners((gradin_vec2){x, y}, 0.0, depth_m, width_m, h->area_corner[a]);
    h->focus[a] = (gradin_focus){
        .name = "area", .polygon = {h->area_corner[a], 4}, .z_m = z_m, .weight = weight};
}

int hall_seat(hall *h, double x, double y, double eye_z_m) {
    int i = h->model.seats.n_seat++;
    cr_assert_lt(i, HALL_SEATS);
    h->eye_m[i] = (gradin_vec3){x, y, eye_z_m};
    h->floor_m[i] = (gradin_vec3){x, y, eye_z_m - 1.2};
    h->facing_deg[i] = 180.0;
    h->width_m[i] = 0.55;
    h->depth_m[i] = 0.9;
    h->row[i] = i + 1; /* a row of its own */
    return i;
}

static void add_owned(hall *h, gradin_shape shape, gradin_cause cause, int name, int owner) {
    int k = h->model.scene.n_occluder++;
    cr_assert_lt(k, HALL_OCCLUDERS);
    h->occluder[k] = (gradin_occluder){shape, (int)cause, owner, name};
}

void hall_occluder(hall *h, gradin_shape shape, gradin_cause cause, int name) {
    add_owned(h, shape, cause, name, GRADIN_NO_OWNER);
}

void hall_heads(hall *h) {
    for (int i = 0; i < h->model.seats.n_seat; i++) {
        gradin_vec3 e = h->eye_m[i];
        add_owned(h, gradin_ellipsoid(e, 180.0, 0.1, 0.0775, 0.115), GRADIN_CAUSE_HEAD, 0, i);
        gradin_vec3 left = {e.x - 0.14, e.y, e.z - 0.2}, right = {e.x + 0.14, e.y, e.z - 0.2};
        add_owned(h, gradin_capsule(left, right, 0.1), GRADIN_CAUSE_HEAD, 0, i);
    }
}

void hall_solid(hall *h, double x, double y, double width_m, double depth_m, double bottom_m,
                double top_m, gradin_cause cause, int name) {
    gradin_vec2 *corner = h->solid_corner[h->n_solid++];
    gradin_rectangle_corners((gradin_vec2){x, y}, 0.0, depth_m, width_m, corner);
    hall_occluder(h, gradin_prism((gradin_polygon){corner, 4}, bottom_m, top_m), cause, name);
}

void hall_rows(hall *h, int n_row, int n_column, double first_y, double shift_m, double eye_z_m,
               double riser_m) {
    for (int row = 0; row < n_row; row++)
        for (int k = 0; k < n_column; k++) {
            int i = hall_seat(h, 0.55 * (k - 0.5 * (n_column - 1)) + (row % 2 ? shift_m : 0.0),
                              first_y + 0.9 * row, eye_z_m + riser_m * row);
            h->row[i] = row + 1;
        }
}

gradin_sight hall_compute(const hall *h, gradin_arena *arena, int n_sample, bool use_reference) {
    gradin_sight sight;
    gradin_error error = {0};
    gradin_sight_options options = {.n_sample = n_sample, .use_reference = use_reference};
    gradin_status status = gradin_sight_compute(arena, &h->model, &options, &sight, &error);
    cr_assert_eq(status, GRADIN_OK, "%s", error.diagnostic[0].text);
    return sight;
}

bool hall_same_bytes(const gradin_sight *a, const gradin_sight *b) {
    const double *const real_a[] = {a->visible,    a->worst_hidden,  a->c_m,
                                    a->d_m,        a->n_m,           a->r_m,
                                    a->t_m,        a->c_row_m,       a->c_two_m,
                                    a->distance_m, a->nearest_m,     a->off_axis_deg,
                                    a->down_deg,   a->turn_deg,      a->width_deg,
                                    a->window_deg, a->over_rail.c_m, a->over_standing.c_m};
    const double *const real_b[] = {b->visible,    b->worst_hidden,  b->c_m,
                                    b->d_m,        b->n_m,           b->r_m,
                                    b->t_m,        b->c_row_m,       b->c_two_m,
                                    b->distance_m, b->nearest_m,     b->off_axis_deg,
                                    b->down_deg,   b->turn_deg,      b->width_deg,
                                    b->window_deg, b->over_rail.c_m, b->over_standing.c_m};
    size_t n = (size_t)a->n_seat;
    bool same = a->n_seat == b->n_seat && a->n_sample == b->n_sample;
    for (size_t i = 0; same && i < sizeof real_a / sizeof real_a[0]; i++)
        same = memcmp(real_a[i], real_b[i], n * sizeof(double)) == 0;
    return same && memcmp(a->hidden, b->hidden, n * GRADIN_N_CAUSE * sizeof(double)) == 0 &&
           memcmp(a->worst_occluder, b->worst_occluder, n * sizeof(int)) == 0 &&
           memcmp(a->front_seat, b->front_seat, n * sizeof(int)) == 0 &&
           memcmp(a->c_case, b->c_case, n * sizeof *a->c_case) == 0 &&
           memcmp(a->rating, b->rating, n * sizeof *a->rating) == 0 &&
           memcmp(a->reason, b->reason, n * sizeof *a->reason) == 0;
}
