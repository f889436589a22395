/* The masks of the engine against Embree's answers, sample by sample: 200 random scenes, 12
 * triangle soups and every seat of the layouts given. Embree's meshes are single precision, so a
 * sample may differ when it lies within TIE_M of a place where the engine's own reference changes
 * its answer; such ties are counted and listed, anything else fails. usage: oracle LAYOUT... */
#include "world.h"

#include "gradin/files.h"
#include "gradin/model.h"
#include "unit/geometry/random.h"

#include <stdio.h>
#include <stdlib.h>

#define TIE_M 1e-3
enum { N_SCENE = 200, N_OCCLUDER = 60, N_LISTED = 10, N_SOUP = 1500, N_SOUP_SCENE = 12 };

typedef struct tally {
    long n_sample, n_hidden, n_tie, n_wrong;
} tally;

static bool reference_clear(const gradin_scene *scene, gradin_vec3 eye, int owner, gradin_vec3 p) {
    int32_t first;
    gradin_visibility_reference(scene, eye, owner, &p, 1, &first);
    return first == GRADIN_CLEAR;
}

static bool is_tie(const gradin_scene *scene, gradin_vec3 eye, int owner, gradin_vec3 p,
                   bool embree_clear) {
    for (int i = 0; i < 16; i++) {
        double turn = 2.0 * GRADIN_PI * i / 16.0;
        gradin_vec3 moved = {p.x + TIE_M * cos(turn), p.y + TIE_M * sin(turn), p.z};
        if (reference_clear(scene, eye, owner, moved) == embree_clear) return true;
    }
    return false;
}

static void note(tally *t, const char *what, int seat, gradin_vec3 p, bool tie) {
    long n = tie ? ++t->n_tie : ++t->n_wrong;
    if (n <= N_LISTED)
        printf("%s: %s, seat %d, sample %.4f %.4f %.4f\n", tie ? "tie" : "WRONG", what, seat, p.x,
               p.y, p.z);
}

static void compare(const gradin_scene *scene, const world *w, const gradin_mask_scene *masks,
                    const gradin_mask_grid *grid, gradin_mask_scratch *scratch, gradin_vec3 eye,
                    int owner, const gradin_vec3 *sample, int n, bool *clear, const char *what,
                    tally *t) {
    int n_clear = gradin_mask_clear(masks, grid, eye, owner, clear, scratch);
    for (int i = 0; i < n; i++) {
        bool embree_clear = !world_hides(w, eye, sample[i], owner);
        if (embree_clear != clear[i])
            note(t, what, owner, sample[i], is_tie(scene, eye, owner, sample[i], embree_clear));
    }
    t->n_sample += n;
    t->n_hidden += n - n_clear;
}

/* One focus area seen from n_eye eyes; owner is the eye's index. */
static bool compare_area(RTCDevice device, const gradin_scene *scene, const gradin_vec3 *eye,
                         int n_eye, const gradin_vec3 *sample, int n, gradin_lie lie,
                         const char *what, tally *t) {
    gradin_arena *arena = gradin_arena_create();
    world w;
    if (!arena || !world_build(&w, device, scene)) return false;
    gradin_mask_scene *masks = gradin_mask_scene_create(arena, scene, lie);
    const gradin_mask_grid *grid = gradin_mask_grid_create(arena, sample, n, lie);
    gradin_mask_scratch *scratch = grid ? gradin_mask_scratch_create(arena, &grid, 1) : NULL;
    bool *clear = gradin_arena_alloc(arena, (size_t)n, sizeof *clear);
    bool is_whole = masks && scratch && clear;
    for (int i = 0; is_whole && i < n_eye; i++)
        compare(scene, &w, masks, grid, scratch, eye[i], i, sample, n, clear, what, t);
    world_free(&w);
    gradin_arena_destroy(arena);
    return is_whole;
}

static gradin_vec3 *raise_grid(gradin_arena *arena, gradin_polygon polygon, double z, int n_wanted,
                               int *n) {
    gradin_vec2 *point;
    if (gradin_polygon_grid(arena, polygon, gradin_polygon_askew(polygon).row, n_wanted, &point,
                            n) != GRADIN_OK)
        return NULL;
    gradin_vec3 *sample = gradin_arena_alloc(arena, (size_t)*n, sizeof *sample);
    for (int i = 0; sample && i < *n; i++) sample[i] = (gradin_vec3){point[i].x, point[i].y, z};
    return sample;
}

static gradin_shape draw_shape(random_source *r, gradin_vec2 *corner) {
    gradin_shape_kind kind = (gradin_shape_kind)random_between(r, 0.0, 4.999);
    if (kind != GRADIN_SHAPE_PRISM) return random_shape(r, kind, 6.0, 0.8, corner);
    gradin_vec3 c = random_point(r, 6.0);
    double turn = random_between(r, 0.0, 6.0), reach = random_between(r, 0.1, 1.0);
    for (int i = 0; i < RANDOM_CORNERS; i++) {
        double at = turn + 2.0 * GRADIN_PI * i / RANDOM_CORNERS;
        corner[i] = (gradin_vec2){c.x + reach * cos(at), c.y + reach * sin(at)};
    }
    return gradin_prism((gradin_polygon){corner, RANDOM_CORNERS}, c.z - 0.4, c.z + 0.5);
}

static bool compare_random(RTCDevice device, random_source *r, tally *t) {
    static gradin_occluder occluder[N_OCCLUDER];
    static gradin_vec2 corner[N_OCCLUDER][RANDOM_CORNERS];
    gradin_vec2 star[RANDOM_CORNERS];
    gradin_vec3 eye[2] = {random_point(r, 8.0), random_point(r, 8.0)}, at = random_point(r, 4.0);
    for (int k = 0; k < N_OCCLUDER; k++) {
        occluder[k].shape = draw_shape(r, corner[k]);
        bool is_round = occluder[k].shape.kind == GRADIN_SHAPE_ELLIPSOID ||
                        occluder[k].shape.kind == GRADIN_SHAPE_CAPSULE;
        occluder[k].owner = is_round ? k % 4 - 1 : GRADIN_NO_OWNER;
    }
    gradin_scene scene = {occluder, N_OCCLUDER};
    gradin_arena *arena = gradin_arena_create();
    int n;
    gradin_polygon area = random_star(r, (gradin_vec2){at.x, at.y}, 2.0, 5.0, RANDOM_CORNERS, star);
    gradin_vec3 *sample = arena ? raise_grid(arena, area, at.z, 500, &n) : NULL;
    bool is_done = sample && compare_area(device, &scene, eye, 2, sample, n,
                                          gradin_polygon_askew(area), "random scene", t);
    gradin_arena_destroy(arena);
    return is_done;
}

/* So many triangles that the masks keep them as a soup. */
static bool compare_soup(RTCDevice device, random_source *r, tally *t) {
    static gradin_occluder occluder[N_SOUP];
    gradin_vec2 star[RANDOM_CORNERS];
    gradin_vec3 eye[2] = {random_point(r, 8.0), random_point(r, 8.0)}, at = random_point(r, 4.0);
    double size = random_between(r, 0.1, 1.0);
    for (int k = 0; k < N_SOUP; k++)
        occluder[k] = (gradin_occluder){random_shape(r, GRADIN_SHAPE_TRIANGLE, 6.0, size, NULL), 0,
                                        GRADIN_NO_OWNER, 0};
    gradin_scene scene = {occluder, N_SOUP};
    gradin_arena *arena = gradin_arena_create();
    int n;
    gradin_polygon area = random_star(r, (gradin_vec2){at.x, at.y}, 2.0, 5.0, RANDOM_CORNERS, star);
    gradin_vec3 *sample = arena ? raise_grid(arena, area, at.z, 500, &n) : NULL;
    bool is_done = sample && compare_area(device, &scene, eye, 2, sample, n,
                                          gradin_polygon_askew(area), "soup", t);
    gradin_arena_destroy(arena);
    return is_done;
}

static bool compare_layout(RTCDevice device, const char *path, tally *t) {
    gradin_arena *arena = gradin_arena_create();
    gradin_model model;
    bool is_done = arena && gradin_model_read(arena, path, &model, NULL) == GRADIN_OK;
    for (int a = 0; is_done && a < model.n_focus; a++) {
        int n;
        gradin_vec3 *sample =
            raise_grid(arena, model.focus[a].polygon, model.focus[a].z_m, 1024 / model.n_focus, &n);
        is_done = sample &&
                  compare_area(device, &model.scene, model.seats.eye_m, model.seats.n_seat, sample,
                               n, gradin_polygon_askew(model.focus[a].polygon), path, t);
    }
    gradin_arena_destroy(arena);
    return is_done;
}

/* Enough is hidden for the comparison to say something: of a layout with good sightlines less (the
 * end stage hides 0.26 %), but all layouts together as much as random scenes. */
static const long HIDDEN_ONE_IN = 50, HIDDEN_OF_LAYOUT_ONE_IN = 500;

static bool report(const char *what, const tally *t, long hidden_one_in) {
    printf("%s: %ld samples, %ld hidden, %ld ties within %g m, %ld wrong\n", what, t->n_sample,
           t->n_hidden, t->n_tie, TIE_M, t->n_wrong);
    return t->n_wrong == 0 && t->n_tie * 1000 < t->n_sample &&
           t->n_hidden * hidden_one_in > t->n_sample;
}

int main(int argc, char **argv) {
    RTCDevice device = rtcNewDevice("threads=1");
    random_source r = {77};
    tally random = {0};
    bool is_good = true;
    for (int i = 0; is_good && i < N_SCENE; i++) is_good = compare_random(device, &r, &random);
    is_good = report("random scenes", &random, HIDDEN_ONE_IN) && is_good;
    tally soup = {0};
    for (int i = 0; is_good && i < N_SOUP_SCENE; i++) is_good = compare_soup(device, &r, &soup);
    is_good = report("triangle soups", &soup, HIDDEN_ONE_IN) && is_good;
    tally all = {0};
    for (int i = 1; i < argc; i++) {
        tally layout = {0};
        is_good = compare_layout(device, argv[i], &layout) && is_good;
        is_good = report(argv[i], &layout, HIDDEN_OF_LAYOUT_ONE_IN) && is_good;
        all.n_sample += layout.n_sample;
        all.n_hidden += layout.n_hidden;
        all.n_tie += layout.n_tie;
        all.n_wrong += layout.n_wrong;
    }
    if (argc > 1) is_good = report("all layouts", &all, HIDDEN_ONE_IN) && is_good;
    rtcReleaseDevice(device);
    return is_good ? 0 : 1;
}
