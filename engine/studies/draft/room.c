/* The room as a draft uses it: the largest upright rectangle of floor within the walls on which
 * nothing fixed stands, whatever the room's shape, and for a venue without lifts squares over it, a
 * row deep each, that banks are counted in. The rectangle is found on a net of cells by trying
 * every first and last column over the free cells of each row. */
#include "studies/draft/draft.h"

static const double NET_M = 0.1;
static const double LEVEL_M = 0.005; /* heights closer than this are one */
enum { MOST_CELL = 300 };

typedef struct net {
    gradin_box2 bounds;
    double dx, dy;
    int n_x, n_y;
    int *high; /* [n_x]: free cells from the present row down */
} net;

static bool is_in_room(const draft_job *job, const net *n, double x_m, double y_m) {
    for (int corner = 0; corner < 4; corner++) {
        gradin_vec2 at_m = {x_m + (corner % 2 ? 0.49 : -0.49) * n->dx,
                            y_m + (corner / 2 ? 0.49 : -0.49) * n->dy};
        if (!gradin_polygon_contains(job->hall->footprint, at_m)) return false;
    }
    return true;
}

bool draft_is_off_level(const gradin_floor_region *region) {
    for (int i = 0; i < region->polygon.n_corner; i++)
        if (fabs(gradin_floor_region_z_m(region, region->polygon.corner_m[i])) > LEVEL_M)
            return true;
    return false;
}

/* Drafts stand on the floor at 0. */
static bool is_off_level(const gradin_venue *hall, const net *n, double x_m, double y_m) {
    double dx = 0.49 * n->dx, dy = 0.49 * n->dy;
    gradin_vec2 corner_m[4] = {
        {x_m - dx, y_m - dy}, {x_m + dx, y_m - dy}, {x_m + dx, y_m + dy}, {x_m - dx, y_m + dy}};
    for (int i = 0; i < hall->n_floor; i++)
        if (draft_is_off_level(&hall->floor[i]) &&
            gradin_polygon_overlap((gradin_polygon){corner_m, 4}, hall->floor[i].polygon, 0.0))
            return true;
    return false;
}

static bool is_free(const draft_job *job, const net *n, int i, int k) {
    const gradin_venue *hall = job->hall;
    double x_m = n->bounds.x_min_m + (i + 0.5) * n->dx, y_m = n->bounds.y_min_m + (k + 0.5) * n->dy;
    if (!is_in_room(job, n, x_m, y_m) || is_off_level(hall, n, x_m, y_m)) return false;
    for (int s = 0; s < hall->n_solid; s++) {
        gradin_box2 b = gradin_polygon_bounds(hall->solid[s].polygon);
        bool stands = hall->solid[s].bottom_m < DRAFT_HEADROOM_M && hall->solid[s].top_m > 0.0;
        if (stands && x_m + n->dx / 2.0 > b.x_min_m && x_m - n->dx / 2.0 < b.x_max_m &&
            y_m + n->dy / 2.0 > b.y_min_m && y_m - n->dy / 2.0 < b.y_max_m)
            return false;
    }
    return true;
}

/* The best rectangle whose last row is k. */
static void try_row(const net *n, int k, double *best_m2, gradin_box2 *best) {
    for (int i = 0; i < n->n_x; i++) {
        int low = n->high[i];
        for (int j = i; j < n->n_x && n->high[j] > 0; j++) {
            low = n->high[j] < low ? n->high[j] : low;
            double area_m2 = (j - i + 1) * n->dx * low * n->dy;
            if (area_m2 <= *best_m2 + 1e-9) continue;
            *best_m2 = area_m2;
            *best = (gradin_box2){
                n->bounds.x_min_m + i * n->dx, n->bounds.y_min_m + (k + 1 - low) * n->dy,
                n->bounds.x_min_m + (j + 1) * n->dx, n->bounds.y_min_m + (k + 1) * n->dy};
        }
    }
}

bool draft_find_floor(draft_job *job) {
    net n = {.bounds = gradin_polygon_bounds(job->hall->footprint)};
    double x_m = n.bounds.x_max_m - n.bounds.x_min_m, y_m = n.bounds.y_max_m - n.bounds.y_min_m;
    double cell_m = fmax(NET_M, fmax(x_m, y_m) / MOST_CELL), best_m2 = 0.0;
    n.n_x = (int)fmax(1.0, floor(x_m / cell_m + 1e-9));
    n.n_y = (int)fmax(1.0, floor(y_m / cell_m + 1e-9));
    n.dx = x_m / n.n_x;
    n.dy = y_m / n.n_y;
    n.high = gradin_arena_alloc(job->arena, (size_t)n.n_x, sizeof *n.high);
    job->floor_box = (gradin_box2){0};
    for (int k = 0; n.high && k < n.n_y; k++) {
        for (int i = 0; i < n.n_x; i++) n.high[i] = is_free(job, &n, i, k) ? n.high[i] + 1 : 0;
        try_row(&n, k, &best_m2, &job->floor_box);
    }
    return n.high != NULL;
}

/* As many whole squares as the length takes; stretched where only rows of one direction lie. */
static void cut(double low_m, double high_m, double side_m, bool is_stretched, int *n,
                double *size_m, double *origin_m) {
    double length_m = high_m - low_m - 2.0 * DRAFT_WALL_M;
    *n = (int)fmax(1.0, floor(length_m / side_m + 1e-9));
    *size_m = is_stretched ? length_m / *n : side_m;
    *origin_m = (low_m + high_m) / 2.0 - *n * *size_m / 2.0;
}

/* At an end stage rows begin at its front: a line between squares lies there, and the stage takes
 * squares behind it that may reach beyond the floor. */
static void start_at_stage(const draft_job *job, gradin_lift_grid *g) {
    gradin_box2 b = job->floor_box;
    double row_m = job->w->row_depth_m, stage_m = job->w->stage_depth_m;
    bool is_east_west = job->quarter % 2 == 1;
    double deep_m = is_east_west ? b.x_max_m - b.x_min_m : b.y_max_m - b.y_min_m;
    int behind = (int)ceil(stage_m / row_m - 1e-6);
    int before = (int)floor((deep_m - stage_m - 2.0 * DRAFT_WALL_M) / row_m + 1e-9);
    double over_m = behind * row_m - stage_m - DRAFT_WALL_M; /* beyond the floor */
    int n = behind + (before > 0 ? before : 0);
    double *origin_m = is_east_west ? &g->origin_m.x : &g->origin_m.y;
    const double low_m[4] = {b.y_min_m - over_m, b.x_min_m - over_m, b.y_max_m + over_m - n * row_m,
                             b.x_max_m + over_m - n * row_m};
    *(is_east_west ? &g->n_column : &g->n_row) = n;
    *origin_m = low_m[job->quarter];
}

const gradin_lift_grid *draft_squares(draft_job *job) {
    gradin_lift_grid *g = gradin_arena_alloc(job->arena, 1, sizeof *g);
    gradin_box2 b = job->floor_box;
    double row_m = job->w->row_depth_m;
    bool has_sides = job->w->form == GRADIN_FORM_THRUST || job->w->form == GRADIN_FORM_ROUND;
    bool is_east_west = job->quarter % 2 == 1;
    if (!g) return NULL;
    *g = (gradin_lift_grid){.name = "floor", .most_steps = 1};
    cut(b.x_min_m, b.x_max_m, row_m, !has_sides && !is_east_west, &g->n_column, &g->size_m[0],
        &g->origin_m.x);
    cut(b.y_min_m, b.y_max_m, row_m, !has_sides && is_east_west, &g->n_row, &g->size_m[1],
        &g->origin_m.y);
    if (draft_is_end(job->w->form)) start_at_stage(job, g);
    g->travel_m[1] = job->w->platform_most_m;
    return g;
}
