/* What of the envelope is not stated, and what it would add were it of a common kind.
 *
 * The missing part is laid over the plan (a roof) or along the edges of the footprint (walls) in
 * the share that is not stated, and let through by a light and by a heavy generic construction; the
 * event is worked out with and without it, A-weighted and by octave. The room is diffuse in both,
 * whatever the layout asks for, since only the difference is given. Limit: where the missing part
 * lies is not known, so it counts evenly everywhere. */
#include "acoustics/event/gaps.h"
#include "acoustics/envelope/element.h"
#include "base/use.h"
#include "gradin/acoustics/event.h"
#include "model/complete.h"

#include <stdlib.h>
#include <string.h>

enum { N_CELL = 3 };

static const double least_gap_m2 = 1.0;
static const double hard_ground_db = 3.0; /* at most: twice the sound on walls */

typedef struct kind {
    const char *what, *light, *heavy;
} kind;

static const kind kinds[GRADIN_N_GAP] = {{"roof", "steel_deck_cellulose", "concrete_150"},
                                         {"walls", "brick_102", "concrete_200"}};

static gradin_status out_of_memory(gradin_error *error) {
    return gradin_error_add(error, GRADIN_NO_MEMORY, NULL, "out of memory");
}

static void add_roof(const gradin_model *m, double open_m2, gradin_element *made, int *n) {
    gradin_box2 box = gradin_polygon_bounds(m->footprint);
    double wide_m = (box.x_max_m - box.x_min_m) / N_CELL;
    double deep_m = (box.y_max_m - box.y_min_m) / N_CELL;
    double open = open_m2 / gradin_polygon_area_m2(m->footprint);
    for (int k = 0; k < N_CELL * N_CELL; k++) {
        double x = box.x_min_m + k % N_CELL * wide_m, y = box.y_min_m + k / N_CELL * deep_m;
        gradin_vec2 corner_m[4] = {
            {x, y}, {x + wide_m, y}, {x + wide_m, y + deep_m}, {x, y + deep_m}};
        double share = gradin_polygon_common_m2((gradin_polygon){corner_m, 4}, m->footprint) /
                       (wide_m * deep_m);
        if (share <= 0.0) continue;
        made[(*n)++] = (gradin_element){.kind = GRADIN_ELEMENT_ROOF,
                                        .corner_m = {x, y, m->ceiling_m},
                                        .along = {1.0, 0.0},
                                        .outward = {0.0, -1.0},
                                        .width_m = wide_m,
                                        .height_m = deep_m,
                                        .tilt_deg = 90.0,
                                        .taken = 1.0 - share * open,
                                        .wall_top_m = m->ceiling_m};
    }
}

static void add_walls(const gradin_model *m, double open_m2, gradin_element *made, int *n) {
    double perimeter_m = 0.0;
    int first = *n;
    for (int i = 0; i < m->footprint.n_corner; i++) {
        gradin_vec2 a = m->footprint.corner_m[i];
        gradin_vec2 b = m->footprint.corner_m[(i + 1) % m->footprint.n_corner];
        double length_m = hypot(b.x - a.x, b.y - a.y);
        gradin_vec2 along = {(b.x - a.x) / length_m, (b.y - a.y) / length_m};
        gradin_vec2 probe_m = {0.5 * (a.x + b.x) + 0.2 * along.y,
                               0.5 * (a.y + b.y) - 0.2 * along.x};
        double side = gradin_polygon_contains(m->footprint, probe_m) ? -1.0 : 1.0;
        perimeter_m += length_m;
        made[(*n)++] = (gradin_element){.kind = GRADIN_ELEMENT_WALL,
                                        .corner_m = {a.x, a.y, 0.0},
                                        .along = along,
                                        .outward = {side * along.y, -side * along.x},
                                        .width_m = length_m,
                                        .height_m = m->ceiling_m,
                                        .wall_top_m = m->ceiling_m};
    }
    for (int i = first; i < *n; i++)
        made[i].taken = fmin(fmax(1.0 - open_m2 / (perimeter_m * m->ceiling_m), 0.0), 1.0);
}

/* The hall with one missing part laid on, letting nothing through, by the diffuse method. */
typedef struct trial {
    gradin_model model;
    gradin_element *element;
    gradin_buildup *buildup; /* the model's and one more, which the part is made of */
    int n_before;
} trial;

static gradin_status make_trial(gradin_arena *arena, const gradin_model *m, int gap, double open_m2,
                                trial *t, gradin_error *error) {
    size_t n_more = N_CELL * N_CELL + (size_t)m->footprint.n_corner, n = (size_t)m->n_element;
    size_t n_buildup = (size_t)m->n_buildup;
    *t = (trial){.model = *m, .n_before = m->n_element};
    t->element = gradin_arena_alloc(arena, n + n_more, sizeof *t->element);
    t->buildup = gradin_arena_alloc(arena, n_buildup + 1, sizeof *t->buildup);
    if (!t->element || !t->buildup) return out_of_memory(error);
    if (n > 0) memcpy(t->element, m->element, n * sizeof *t->element);
    if (n_buildup > 0) memcpy(t->buildup, m->buildup, n_buildup * sizeof *t->buildup);
    t->buildup[n_buildup] = (gradin_buildup){.name = "generic", .sample_m2 = NAN};
    (gap == GRADIN_GAP_ROOF ? add_roof : add_walls)(m, open_m2, t->element, &t->model.n_element);
    for (int e = t->n_before; e < t->model.n_element; e++) {
        t->element[e].name = kinds[gap].what;
        t->element[e].shade = t->element[e].buildup = -1;
        t->element[e].joint_r_db = INFINITY;
        memcpy(t->element[e].absorption,
               m->surface[gap == GRADIN_GAP_ROOF ? GRADIN_SURFACE_CEILING : GRADIN_SURFACE_WALL]
                   .absorption,
               sizeof t->element[e].absorption);
    }
    t->model.element = t->element;
    t->model.buildup = t->buildup;
    t->model.n_buildup++;
    t->model.room_method = GRADIN_ROOM_DIFFUSE;
    t->model.has_diffuse_anyway = true; /* only the difference is given */
    t->model.site = NULL; /* a measurement holds the part already: what the prediction gains */
    return GRADIN_OK;
}

static int by_value(const void *a, const void *b) {
    const double *p = a, *q = b;
    return (*p > *q) - (*p < *q);
}

static double median(double *value, int n) {
    qsort(value, (size_t)n, sizeof *value, by_value);
    return n % 2 ? value[n / 2] : 0.5 * (value[n / 2 - 1] + value[n / 2]);
}

/* Of the maximum over the seats, and of its octaves. */
typedef struct medians {
    double lamax_db, octave_db[GRADIN_N_OCTAVE];
} medians;

static gradin_status take_medians(gradin_arena *arena, int n_seat, gradin_flight *flight,
                                  medians *m, gradin_error *error) {
    double *octave_db = gradin_arena_alloc(arena, GRADIN_N_OCTAVE * (size_t)n_seat, sizeof(double));
    if (!octave_db) return out_of_memory(error);
    for (int i = 0; i < n_seat; i++) {
        double own_db[GRADIN_N_OCTAVE];
        gradin_octaves_db(flight->band_db + (size_t)i * GRADIN_N_BAND, own_db);
        for (int o = 0; o < GRADIN_N_OCTAVE; o++) octave_db[o * n_seat + i] = own_db[o];
    }
    m->lamax_db = median(flight->lamax_db, n_seat);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++)
        m->octave_db[o] = median(octave_db + (size_t)o * (size_t)n_seat, n_seat);
    return GRADIN_OK;
}

/* The event with the part made of a construction or (NULL) of nothing. */
static gradin_status try_one(gradin_arena *arena, trial *t, const gradin_construction *of,
                             const gradin_traffic *traffic, int class_index, int track, medians *m,
                             gradin_error *error) {
    gradin_prepared_room room;
    gradin_flight flight = {.class_index = class_index, .track = track};
    if (of) gradin_buildup_be(&t->buildup[t->model.n_buildup - 1], of);
    for (int e = t->n_before; e < t->model.n_element; e++)
        t->element[e].buildup = of ? t->model.n_buildup - 1 : -1;
    int n_blas = gradin_blas_single();
    gradin_status status = gradin_room_prepare(arena, &t->model, NULL, &room, error);
    if (status == GRADIN_OK) status = gradin_flight_alloc(arena, &room, 1, &flight, error);
    if (status == GRADIN_OK) status = gradin_flight_compute(&room, traffic, NULL, &flight, error);
    gradin_blas_restore(n_blas);
    return status == GRADIN_OK ? take_medians(arena, t->model.seats.n_seat, &flight, m, error)
                               : status;
}

static gradin_status find_gap(gradin_arena *arena, const gradin_model *model, int gap,
                              const gradin_traffic *traffic, int class_index, int track,
                              gradin_gap *found, gradin_error *error) {
    const gradin_construction *light = gradin_construction_find(kinds[gap].light);
    const gradin_construction *heavy = gradin_construction_find(kinds[gap].heavy);
    const gradin_construction *const of[3] = {NULL, light, heavy};
    trial t;
    medians m[3];
    double area_m2 = gap == GRADIN_GAP_ROOF ? model->open_roof_m2 : model->open_wall_m2;
    gradin_status status = make_trial(arena, model, gap, area_m2, &t, error);
    for (int k = 0; k < 3 && status == GRADIN_OK; k++)
        status = try_one(arena, &t, of[k], traffic, class_index, track, &m[k], error);
    if (status != GRADIN_OK) return status;
    *found = (gradin_gap){.what = kinds[gap].what,
                          .area_m2 = area_m2,
                          .light = light,
                          .heavy = heavy,
                          .light_db = m[1].lamax_db - m[0].lamax_db,
                          .heavy_db = m[2].lamax_db - m[0].lamax_db};
    for (int o = 0; o < GRADIN_N_OCTAVE; o++)
        found->light_octave_db[o] = m[1].octave_db[o] - m[0].octave_db[o];
    return status;
}

/* What is not stated feeds the same room: energies add up; of an octave, or (-1) A-weighted. The
 * spectra are those of the loudest moment, which a part may shift, so that an octave comes out
 * lower with it: that takes nothing from what the other part adds. */
static double sum_db(const gradin_gaps *gaps, int octave) {
    double energy = 1.0;
    for (int k = 0; k < gaps->n_gap; k++) {
        const gradin_gap *gap = &gaps->gap[k];
        double adds_db = octave < 0 ? gap->light_db : gap->light_octave_db[octave];
        energy += fmax(pow(10.0, 0.1 * adds_db) - 1.0, 0.0);
    }
    return 10.0 * log10(energy) + (gaps->ground == GRADIN_GROUND_NONE ? hard_ground_db : 0.0);
}

void gradin_gaps_sum(gradin_gaps *gaps) {
    gaps->adds_db = sum_db(gaps, -1);
    for (int o = 0; o < GRADIN_N_OCTAVE; o++) gaps->adds_octave_db[o] = sum_db(gaps, o);
}

gradin_status gradin_gaps_find(const gradin_model *model, const gradin_traffic *traffic,
                               int class_index, int track, gradin_gaps *gaps, gradin_error *error) {
    if (NEEDS(error, traffic, gaps) != GRADIN_OK || model_complete(model, error) != GRADIN_OK)
        return GRADIN_BAD_USE;
    gradin_status status = GRADIN_OK;
    *gaps = (gradin_gaps){.ground = model->ground};
    if (model->seats.n_seat < 1 || model->n_surface < GRADIN_N_SURFACE) return GRADIN_OK;
    for (int gap = 0; status == GRADIN_OK && gap < GRADIN_N_GAP; gap++) {
        if ((gap == GRADIN_GAP_ROOF ? model->open_roof_m2 : model->open_wall_m2) < least_gap_m2)
            continue;
        gradin_arena *scratch = gradin_arena_create();
        if (!scratch) return out_of_memory(error);
        status = find_gap(scratch, model, gap, traffic, class_index, track,
                          &gaps->gap[gaps->n_gap++], error);
        gradin_arena_destroy(scratch);
    }
    if (status == GRADIN_OK) gradin_gaps_sum(gaps);
    return status;
}
