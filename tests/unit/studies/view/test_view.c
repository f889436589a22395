/* Views of the demo's halls: what the pixels show is what the table counts, and every pixel of the
 * focus is what brute force says. */
#include "gradin/files.h"
#include "gradin/sightline.h"
#include "gradin/studies/view.h"
#include "gradin/studies/viewpoints.h"

#include <criterion/criterion.h>
#include <stdio.h>
#include <string.h>

static gradin_arena *arena;
static gradin_model model;
static gradin_sight sight;
static gradin_view view;

static void read_model(const char *layout) {
    char path[512];
    arena = gradin_arena_create();
    snprintf(path, sizeof path, GRADIN_SOURCE_DIR "/demo/%s", layout);
    cr_assert_eq(gradin_model_read(arena, path, &model, NULL), GRADIN_OK, "%s", path);
    cr_assert_eq(gradin_sight_compute(arena, &model, NULL, &sight, NULL), GRADIN_OK);
}

static void look(int seat, gradin_view_options how) {
    cr_assert_eq(gradin_view_compute(arena, &model, seat, &how, &view, NULL), GRADIN_OK);
}

static void release(void) {
    gradin_arena_destroy(arena);
}
TestSuite(view, .fini = release, .timeout = 600);
TestSuite(view_shares, .fini = release, .timeout = 600);

/* The table's own figure exactly, and the share by pixels within what 1,024 samples and some
 * thousand pixels tell apart (tests/bench/sampling.c has the first: 0.3 points rms at most). */
static int expect_shares(const char *layout, int stride, gradin_view_options how) {
    int n = 0;
    double sum2 = 0.0;
    read_model(layout);
    for (int i = stride / 2; i < model.seats.n_seat; i += stride) {
        look(i, how);
        cr_assert_eq(view.visible, sight.visible[i], "%s", model.seats.id[i]);
        cr_assert_eq(view.hidden[0], sight.hidden[(size_t)i * GRADIN_N_CAUSE]);
        cr_assert_lt(view.in_picture, 1.0 + 1e-9);
        if (view.in_picture < 0.97) continue;
        double off = 100.0 * (view.seen - view.visible);
        cr_assert_lt(fabs(off), 2.5, "%s: %g by pixels, %g by samples", model.seats.id[i],
                     view.seen, view.visible);
        sum2 += off * off;
        n++;
    }
    cr_assert_lt(sqrt(sum2 / n), 0.8, "%s: %g points rms of %d", layout, sqrt(sum2 / n), n);
    return n;
}

Test(view_shares, in_the_first_hall) {
    const gradin_view_options wide = {.width_px = 900, .height_px = 500, .fov_deg = 110};
    cr_assert_geq(expect_shares("thrust.yaml", 46, wide), 5);
}

Test(view_shares, behind_the_arch) {
    const gradin_view_options wide = {.width_px = 900, .height_px = 500, .fov_deg = 110};
    cr_assert_geq(expect_shares("end_stage.yaml", 62, wide), 5);
}

Test(view_shares, in_the_second_hall) {
    const gradin_view_options round = {
        .width_px = 1400, .height_px = 1000, .fov_deg = 200, .is_panorama = true};
    cr_assert_geq(expect_shares("hexagon_opera.yaml", 94, round), 2);
}

static int worst_seat(void) {
    int worst = 0;
    for (int i = 0; i < model.seats.n_seat; i++)
        if (sight.visible[i] < sight.visible[worst]) worst = i;
    return worst;
}

static bool crosses_floor(gradin_vec3 way, int area, gradin_vec3 *at_m) {
    double t = (model.focus[area].z_m - view.eye_m.z) / way.z;
    *at_m = gradin_add(view.eye_m, gradin_scale(way, t));
    return t > 0.0 && model.focus[area].kind == GRADIN_FOCUS_FLOOR &&
           model.focus[area].slope == 0.0 &&
           gradin_polygon_contains(model.focus[area].polygon, (gradin_vec2){at_m->x, at_m->y});
}

/* Every 53rd pixel against the reference. */
static void expect_pixels(int counted[2]) {
    for (int i = 0; i < view.width_px * view.height_px; i += 53) {
        const gradin_view_sample *s = &view.sample[i];
        gradin_vec3 at_m;
        gradin_vec3 way = gradin_view_way(&view, i % view.width_px + 0.5, i / view.width_px + 0.5);
        if (!crosses_floor(way, 0, &at_m)) continue;
        int32_t first;
        gradin_visibility_reference(&model.scene, view.eye_m, view.seat, &at_m, 1, &first);
        cr_assert_eq(s->is_hidden, first != GRADIN_CLEAR, "pixel %d", i);
        if (first == GRADIN_CLEAR)
            cr_assert(s->thing == GRADIN_VIEW_FOCUS || s->thing == GRADIN_VIEW_FIGURE);
        counted[s->is_hidden]++;
    }
}

Test(view, every_pixel_of_the_focus_is_what_brute_force_says) {
    int counted[2] = {0, 0};
    read_model("thrust.yaml");
    look(worst_seat(), (gradin_view_options){.width_px = 700, .height_px = 500});
    expect_pixels(counted);
    cr_assert_gt(counted[0], 50);
    cr_assert_gt(counted[1], 50);
}

/* Highest point of what is drawn as one thing, and how many pixels show it. */
static double highest_m(gradin_view_thing thing, int *n) {
    double high_m = -INFINITY;
    *n = 0;
    for (int i = 0; i < view.width_px * view.height_px; i++) {
        const gradin_view_sample *s = &view.sample[i];
        if (s->thing != thing) continue;
        gradin_vec3 way = gradin_view_way(&view, i % view.width_px + 0.5, i / view.width_px + 0.5);
        high_m = fmax(high_m, view.eye_m.z + way.z * (double)s->distance_m);
        ++*n;
    }
    return high_m;
}

static int seat_of(const char *id) {
    for (int i = 0; i < model.seats.n_seat; i++)
        if (strcmp(model.seats.id[i], id) == 0) return i;
    cr_assert_fail("no seat %s", id);
    return 0;
}

/* Faces 1.6 m over the stage are no ceiling and nobody stands on them; a plane 0.9 m over the floor
 * leaves people and squares on the floor. */
Test(view, an_area_in_the_air_is_looked_through) {
    static const struct {
        const char *layout, *seat;
        double floor_m;
    } look_at[2] = {{"flat_floor.yaml", "Chairs-1-2", 0.9}, {"traverse.yaml", "North-4-20", 0.0}};
    for (int k = 0; k < 2; k++) {
        int n;
        read_model(look_at[k].layout);
        look(seat_of(look_at[k].seat), (gradin_view_options){.width_px = 500, .height_px = 400});
        cr_assert_float_eq(highest_m(GRADIN_VIEW_FOCUS, &n), look_at[k].floor_m, 1e-3);
        cr_assert_gt(n, 1000, "%d pixels of squares", n);
        double high_m = highest_m(GRADIN_VIEW_FIGURE, &n);
        cr_assert_leq(high_m, look_at[k].floor_m + GRADIN_VIEW_FIGURE_M + 1e-3);
        cr_assert_gt(high_m, look_at[k].floor_m + 1.5);
        for (int i = n = 0; i < view.width_px * view.height_px; i++) n += view.sample[i].is_sheer;
        cr_assert_gt(n, 1000, "%d pixels of the area", n);
        if (k == 0) gradin_arena_destroy(arena);
    }
}

/* Elementary geometry: the rays at the left and right edge are the field of view apart, and the
 * middle looks at the middle of the focus. */
Test(view, rays_are_as_the_options_say) {
    read_model("hexagon_stage.yaml");
    for (int is_panorama = 0; is_panorama < 2; is_panorama++) {
        look(3, (gradin_view_options){
                    .width_px = 64, .height_px = 64, .fov_deg = 80, .is_panorama = is_panorama});
        gradin_vec3 left = gradin_view_way(&view, 0.0, 32.0),
                    right = gradin_view_way(&view, 64.0, 32.0);
        left.z = is_panorama ? 0.0 : left.z;
        right.z = is_panorama ? 0.0 : right.z;
        double cosine = gradin_dot(left, right) / gradin_norm(left) / gradin_norm(right);
        cr_assert_float_eq(gradin_deg(acos(cosine)), 80.0, 1e-9);
        gradin_vec3 middle = gradin_view_way(&view, 32.0, 32.0);
        gradin_vec3 there = gradin_add(view.eye_m, gradin_scale(middle, view.distance_m));
        gradin_vec3 stage = gradin_focus_middle_m(&model.focus[0]);
        if (model.n_focus == 1) cr_assert_lt(gradin_norm(gradin_sub(there, stage)), 1e-9);
    }
}

/* What all pixels cover of a floor is the floor: so each stands for the right part of it. Seen flat
 * it has too few rows of pixels for that. */
Test(view, pixels_cover_the_whole_floor) {
    int n = 0;
    read_model("hexagon_stage.yaml");
    cr_assert_eq(model.focus[0].kind, GRADIN_FOCUS_FLOOR);
    for (int i = 0; i < model.seats.n_seat && n < 3; i += 17) {
        if (model.seats.eye_m[i].z - model.focus[0].z_m < 2.0) continue;
        look(i, (gradin_view_options){
                    .width_px = 900, .height_px = 500, .fov_deg = 180, .is_panorama = true});
        cr_assert_float_eq(view.area_in_picture[0], 1.0, 0.02, "%s: %g", model.seats.id[i],
                           view.area_in_picture[0]);
        n++;
    }
    cr_assert_eq(n, 3);
}

Test(view, chosen_seats_are_what_their_titles_say) {
    gradin_viewpoint *point;
    int n;
    read_model("thrust.yaml");
    cr_assert_eq(gradin_viewpoints_choose(arena, &model, &sight, 12, &point, &n, NULL), GRADIN_OK);
    cr_assert_eq(n, 12);
    for (int i = 0; i < n; i++)
        for (int k = 0; k < i; k++) cr_assert_neq(point[i].seat, point[k].seat);
    for (int i = 0; i < model.seats.n_seat; i++) {
        cr_assert_leq(sight.visible[i], sight.visible[point[0].seat]);
        cr_assert_geq(sight.visible[i], sight.visible[point[2].seat]);
    }
    int below = 0;
    for (int i = 0; i < model.seats.n_seat; i++)
        below += sight.visible[i] < sight.visible[point[1].seat];
    cr_assert_leq(2 * below, model.seats.n_seat);
}
