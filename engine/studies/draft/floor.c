/* Loose chairs on a flat floor: straight rows, or arcs about a point on the stage's axis, every
 * other row with a chair less or more. The aisles are the fewest that keep every run within the row
 * lengths; chairs are counted as the layout will place them, so the count is exact. */
#include "studies/draft/draft.h"

#include <string.h>

static const double BODY_M = 0.6, TOUCH_M = 0.02; /* as places are cut by aisles */
static const double FRONT_M = 1.8; /* from the stage to the first row without places before it */
static const double OVER_M = 0.6;  /* aisles reach beyond the first and last row */
static const double CLOSE_M = 0.3,
                    WIDE_M = 1.0; /* between places before the chairs and the chairs */

static gradin_vec2 along(gradin_vec2 from_m, double bearing_deg, double distance_m) {
    gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
    return (gradin_vec2){from_m.x + unit.x * distance_m, from_m.y + unit.y * distance_m};
}

static double away_deg(const draft_job *job) {
    return 90.0 * job->quarter;
}

/* By turns an even and an odd count: everybody looks between two heads, and both sides are alike.
 */
int draft_chairs_of_row(const draft_job *job, const draft_floor *f, int row) {
    double radius_m = f->radius_m + row * job->w->row_depth_m;
    double span_m = gradin_rad(f->arc_deg[1] - f->arc_deg[0]) * radius_m;
    int n = f->is_curved ? (int)floor(span_m / job->w->seat_width_m + 1e-9) : f->n_across;
    return n - (n + row + f->n_across) % 2;
}

/* Seat i of n of a row, from the left hand of its people. */
static void seat_corners(const draft_job *job, const draft_floor *f, int row, int i, int n,
                         gradin_vec2 corner_m[4]) {
    double width_m = job->w->seat_width_m;
    double depth_m = fmin(job->w->row_depth_m, BODY_M), back_m = row * job->w->row_depth_m;
    gradin_vec2 at_m;
    double facing_deg = f->facing_deg;
    if (f->is_curved) {
        double side_m = ((n - 1) / 2.0 - i) * width_m;
        double bearing_deg =
            (f->arc_deg[0] + f->arc_deg[1]) / 2.0 + gradin_deg(side_m / (f->radius_m + back_m));
        at_m = along(f->front_m, bearing_deg, f->radius_m + back_m);
        facing_deg = bearing_deg + 180.0;
    } else {
        at_m = along(along(f->front_m, facing_deg, -back_m), facing_deg + 90.0,
                     (i - (n - 1) / 2.0) * width_m);
    }
    gradin_rectangle_corners(at_m, facing_deg, depth_m, width_m, corner_m);
}

static bool is_in_aisle(const draft_floor *f, gradin_vec2 corner_m[4]) {
    for (int k = 0; k < f->n_aisle; k++) {
        gradin_vec2 aisle_m[4];
        memcpy(aisle_m, f->aisle_m[k], sizeof aisle_m);
        if (gradin_polygon_overlap((gradin_polygon){corner_m, 4}, (gradin_polygon){aisle_m, 4},
                                   TOUCH_M))
            return true;
    }
    return false;
}

/* Chairs of a row that stay; -1 when a run is longer than the rules or an end has no aisle. */
static int count_row(const draft_job *job, const draft_floor *f, int row, int one_aisle,
                     int two_aisles) {
    int n = draft_chairs_of_row(job, f, row), run = 0, n_run = 0, stay = 0;
    bool is_first = true;
    for (int i = 0; i <= n; i++) {
        gradin_vec2 corner_m[4];
        if (i < n) seat_corners(job, f, row, i, n, corner_m);
        if (i < n && !is_in_aisle(f, corner_m)) {
            run++;
            continue;
        }
        if (run > (is_first || i == n ? one_aisle : two_aisles)) return -1;
        stay += run;
        n_run += run > 0;
        is_first = false;
        run = 0;
    }
    return n_run > f->n_aisle || stay == 0 ? stay : -1;
}

static bool count_rows(const draft_job *job, draft_floor *f) {
    int one_aisle, two_aisles;
    draft_row_rule(job, &one_aisle, &two_aisles);
    f->n_seat = 0;
    for (int row = 0; row < f->n_row; row++) {
        int n = count_row(job, f, row, one_aisle, two_aisles);
        if (n < 0) return false;
        f->n_seat += n;
    }
    return f->n_seat > 0;
}

/* A strip along a bearing through a point. */
static void add_strip(draft_floor *f, gradin_vec2 from_m, double bearing_deg, double length_m,
                      double width_m) {
    gradin_rectangle_corners(along(from_m, bearing_deg, length_m / 2.0), bearing_deg, length_m,
                             width_m, f->aisle_m[f->n_aisle++]);
}

/* Where aisle i of k stands across the rows, -1 .. 1. */
static double share_of(int i, int k, int one_aisle, int two_aisles) {
    double all = 2.0 * one_aisle + (k - 1) * two_aisles;
    return k == 1 ? 0.0 : -1.0 + 2.0 * (one_aisle + (double)i * two_aisles) / all;
}

static void lay_aisles(const draft_job *job, draft_floor *f, int k) {
    int one_aisle, two_aisles;
    double depth_m = (f->n_row - 1) * job->w->row_depth_m + 2.0 * OVER_M;
    draft_row_rule(job, &one_aisle, &two_aisles);
    f->n_aisle = 0;
    for (int i = 0; i < k; i++) {
        double share = share_of(i, k, one_aisle, two_aisles);
        if (f->is_curved) {
            double half_deg = (f->arc_deg[1] - f->arc_deg[0]) / 2.0;
            double bearing_deg = f->arc_deg[0] + half_deg * (1.0 + share);
            add_strip(f, along(f->front_m, bearing_deg, f->radius_m - OVER_M), bearing_deg, depth_m,
                      job->w->aisle_m);
        } else {
            double side_m = share * f->n_across * job->w->seat_width_m / 2.0;
            gradin_vec2 front_m = along(f->front_m, f->facing_deg + 90.0, side_m);
            add_strip(f, along(front_m, f->facing_deg, OVER_M), f->facing_deg + 180.0, depth_m,
                      job->w->aisle_m);
        }
    }
}

static bool find_aisles(const draft_job *job, draft_floor *f) {
    for (int k = 1; k <= DRAFT_MAX_AISLE; k++) {
        lay_aisles(job, f, k);
        if (count_rows(job, f)) return true;
    }
    return false;
}

/* The last row's ends, and all of every end seat, stand on free floor. */
static bool stands_free(const draft_job *job, const draft_scheme *scheme) {
    const draft_floor *f = &scheme->floor;
    for (int row = 0; row < f->n_row; row++) {
        int n = draft_chairs_of_row(job, f, row),
            step = row == f->n_row - 1 || row == 0 ? 1 : n - 1;
        for (int i = 0; i<n; i += step> 0 ? step : 1) {
            gradin_vec2 corner_m[4];
            seat_corners(job, f, row, i, n, corner_m);
            if (!draft_is_free(job, scheme, (gradin_polygon){corner_m, 4}, DRAFT_LANDING_M))
                return false;
        }
    }
    return true;
}

/* Middle of the stage's front edge on the main grid. */
static gradin_vec2 stage_front_m(const draft_job *job) {
    gradin_box2 b = job->stage_box;
    gradin_vec2 middle_m = {(b.x_min_m + b.x_max_m) / 2.0, (b.y_min_m + b.y_max_m) / 2.0};
    double deep_m = job->quarter % 2 == 0 ? b.y_max_m - b.y_min_m : b.x_max_m - b.x_min_m;
    return along(middle_m, away_deg(job), deep_m / 2.0);
}

/* From the axis to the ends of the rows: to the walls, or with a way along them and shorter from
 * one choice to the next. */
static double half_width_m(const draft_job *job, int inset) {
    gradin_box2 b = job->floor_box;
    gradin_vec2 front_m = stage_front_m(job);
    bool is_north_south = job->quarter % 2 == 0;
    double low_m = is_north_south ? front_m.x - b.x_min_m : front_m.y - b.y_min_m;
    double high_m = is_north_south ? b.x_max_m - front_m.x : b.y_max_m - front_m.y;
    double way_m =
        inset > 0 ? draft_way_m(job) + 2.0 * (inset - 1) * job->w->seat_width_m : DRAFT_WALL_M;
    return fmin(low_m, high_m) - way_m;
}

/* Behind the last row there is a way: the aisles lead out there too. */
static bool has_way_behind(const draft_job *job, double first_m, int n_row) {
    gradin_box2 b = job->floor_box;
    gradin_vec2 front_m = stage_front_m(job);
    const double deep_m[4] = {b.y_max_m - front_m.y, b.x_max_m - front_m.x, front_m.y - b.y_min_m,
                              front_m.x - b.x_min_m};
    double last_m = first_m + (n_row - 0.5) * job->w->row_depth_m;
    return last_m + draft_way_m(job) <= deep_m[job->quarter] + 1e-6;
}

bool draft_set_floor(const draft_job *job, draft_scheme *scheme) {
    double half_m = half_width_m(job, scheme->choice.inset);
    double behind_m = scheme->choice.gap ? WIDE_M : CLOSE_M;
    double places_m = scheme->choice.front ? DRAFT_PLACE_DEPTH_M + behind_m : 0.0;
    double first_m = FRONT_M + places_m, width_m = job->w->seat_width_m;
    draft_floor *f = &scheme->floor;
    *f = (draft_floor){.is_curved = job->w->curve_m > 0.0,
                       .facing_deg = gradin_wrap_360_deg(away_deg(job) + 180.0),
                       .n_row = scheme->choice.depth};
    f->front_m = along(stage_front_m(job), away_deg(job), first_m - job->w->curve_m);
    if (f->is_curved) {
        double last_m = job->w->curve_m + (f->n_row - 1) * job->w->row_depth_m;
        double half_deg = floor(gradin_deg(asin(fmin(half_m / (last_m + BODY_M), 1.0))));
        f->radius_m = job->w->curve_m;
        f->arc_deg[0] = gradin_wrap_360_deg(away_deg(job) - fmin(half_deg, 80.0));
        f->arc_deg[1] = f->arc_deg[0] + 2.0 * fmin(half_deg, 80.0);
    } else {
        f->n_across = (int)floor(2.0 * half_m / width_m + 1e-9);
    }
    if (half_m < 2.0 * width_m || !has_way_behind(job, first_m, f->n_row) ||
        draft_chairs_of_row(job, f, 0) < 2 || !stands_free(job, scheme))
        return false;
    return find_aisles(job, f);
}
