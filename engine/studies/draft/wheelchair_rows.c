/* Rows of wheelchair places, each beside a companion's, on level floor. They stand on the level
 * first rank of a bank when the choice keeps one. Else they are searched for on a square net over
 * the free floor: a row may stand where the way to the near edge of the focus crosses no bank,
 * where it hides nobody on a bank, and with free floor before it. The longest row that is still
 * wanted goes first, then the nearest. */
#include "studies/draft/draft.h"

#include <stdlib.h>
#include <string.h>

static const double DOOR_M = 2.0;  /* kept clear before a door; common practice, no source */
static const double CLEAR_M = 0.9; /* free floor before a row, to come and go */
static const double MOUTH_M = 1.0; /* beyond the ends of a bank's front, to walk out there */
static const double LEAST_SIGHT = 0.60, PLACE_WORTH = 0.03, DISTANCE_WORTH = 0.03;
static const double LAST_WORTH = 0.1; /* of rows after which nobody is left, or that leave a pair */
enum { N_RAY = 5, N_SAMPLE = 16, NET_PARTS = 6 };

typedef struct search {
    const draft_job *job;
    const draft_scheme *scheme;
    int n;           /* places wanted in a row */
    int n_left;      /* in all */
    double beside_m; /* kept free beside one end of a row */
    bool is_tight;   /* in a corner that is reached from one side */
    bool is_paired;  /* off the axis only together with the row's mirror image */
    gradin_box2 blocker[DRAFT_MAX_BANK + DRAFT_MAX_WHEELCHAIR_ROW];
    int n_blocker;
    draft_wheelchair_row best;
    double best_worth;
} search;

static gradin_vec2 along(gradin_vec2 from_m, double bearing_deg, double distance_m) {
    gradin_vec2 unit = gradin_bearing_unit(bearing_deg);
    return (gradin_vec2){from_m.x + unit.x * distance_m, from_m.y + unit.y * distance_m};
}

static gradin_vec2 near_focus_m(const draft_job *job, gradin_vec2 at_m) {
    gradin_vec2 corner_m[4];
    draft_box_corners(job->focus_box, corner_m);
    return gradin_polygon_nearest_m((gradin_polygon){corner_m, 4}, at_m, NULL);
}

/* Does the way a-b on plan cross the box? Liang and Barsky, ACM Transactions on Graphics 3 (1984).
 */
static bool crosses(gradin_vec2 a, gradin_vec2 b, gradin_box2 box) {
    const double p[4] = {a.x - b.x, b.x - a.x, a.y - b.y, b.y - a.y};
    const double q[4] = {a.x - box.x_min_m, box.x_max_m - a.x, a.y - box.y_min_m,
                         box.y_max_m - a.y};
    double enter = 0.0, leave = 1.0;
    for (int i = 0; i < 4; i++) {
        if (p[i] == 0.0 && q[i] < 0.0) return false;
        if (p[i] < 0.0) enter = fmax(enter, q[i] / p[i]);
        if (p[i] > 0.0) leave = fmin(leave, q[i] / p[i]);
    }
    return enter < leave;
}

/* All that people sit on: heads hide, the way along the front does not. */
static gradin_box2 seated_box(const draft_job *job, const draft_bank *bank) {
    gradin_box2 first = draft_rank_box(job, bank, 0);
    gradin_box2 last = draft_rank_box(job, bank, bank->n_rank - 1);
    gradin_box2 b = {fmin(first.x_min_m, last.x_min_m), fmin(first.y_min_m, last.y_min_m),
                     fmax(first.x_max_m, last.x_max_m), fmax(first.y_max_m, last.y_max_m)};
    double walk_m = bank->n_walk * bank->rank_m / bank->n_step;
    if (bank->quarter == 0) b.y_max_m -= walk_m;
    if (bank->quarter == 1) b.x_max_m -= walk_m;
    if (bank->quarter == 2) b.y_min_m += walk_m;
    if (bank->quarter == 3) b.x_min_m += walk_m;
    return b;
}

static gradin_box2 row_box(const draft_wheelchair_row *row) {
    gradin_vec2 corner_m[4];
    gradin_rectangle_corners(row->front_m, row->facing_deg, DRAFT_PLACE_DEPTH_M,
                             row->n_place * DRAFT_PLACE_WIDTH_M, corner_m);
    return gradin_polygon_bounds((gradin_polygon){corner_m, 4});
}

/* Nobody sees over the heads on the same floor. */
static bool is_behind_chairs(const search *s, gradin_vec2 eye_m, gradin_vec2 target_m) {
    for (int i = 1; i < N_SAMPLE && s->scheme->floor.n_row > 0; i++) {
        double t = (double)i / N_SAMPLE;
        gradin_vec2 at_m = {eye_m.x + t * (target_m.x - eye_m.x),
                            eye_m.y + t * (target_m.y - eye_m.y)};
        if (draft_is_among_chairs(s->job, &s->scheme->floor, at_m)) return true;
    }
    return false;
}

static bool is_hidden(const search *s, gradin_vec2 eye_m, gradin_vec2 target_m) {
    for (int i = 0; i < s->n_blocker; i++)
        if (crosses(eye_m, target_m, s->blocker[i])) return true;
    return is_behind_chairs(s, eye_m, target_m);
}

/* Share of a net of N_RAY x N_RAY points of the focus that the middle and the ends of a row see
 * past the banks and the other rows of places, on plan. */
static double sight_of(const search *s, const draft_wheelchair_row *row) {
    gradin_box2 f = s->job->focus_box;
    int n_seen = 0;
    for (int end = -1; end <= 1; end++) {
        double side_m = end * (row->n_place - 1) * DRAFT_PLACE_WIDTH_M / 2.0;
        gradin_vec2 eye_m = along(row->front_m, row->facing_deg + 90.0, side_m);
        for (int i = 0; i < N_RAY * N_RAY; i++) {
            gradin_vec2 target_m = {f.x_min_m + (f.x_max_m - f.x_min_m) * (i % N_RAY + 0.5) / N_RAY,
                                    f.y_min_m +
                                        (f.y_max_m - f.y_min_m) * (i / N_RAY + 0.5) / N_RAY};
            n_seen += !is_hidden(s, eye_m, target_m);
        }
    }
    return n_seen / (3.0 * N_RAY * N_RAY);
}

/* What lies between the front edge of a bank and the focus. */
static void view_of_bank(const draft_job *job, const draft_bank *bank, gradin_vec2 corner_m[4]) {
    gradin_box2 b = draft_rank_box(job, bank, 0), f = job->focus_box;
    if (bank->quarter % 2 == 0) {
        double front = bank->quarter == 0 ? b.y_max_m : b.y_min_m;
        double far = bank->quarter == 0 ? f.y_min_m : f.y_max_m;
        const gradin_vec2 c[4] = {
            {b.x_min_m, front}, {b.x_max_m, front}, {f.x_max_m, far}, {f.x_min_m, far}};
        memcpy(corner_m, c, sizeof c);
    } else {
        double front = bank->quarter == 1 ? b.x_max_m : b.x_min_m;
        double far = bank->quarter == 1 ? f.x_min_m : f.x_max_m;
        const gradin_vec2 c[4] = {
            {front, b.y_min_m}, {front, b.y_max_m}, {far, f.y_max_m}, {far, f.y_min_m}};
        memcpy(corner_m, c, sizeof c);
    }
}

static bool hides_a_bank(const search *s, gradin_polygon row) {
    for (int i = 0; i < s->scheme->n_bank; i++) {
        gradin_vec2 corner_m[4];
        view_of_bank(s->job, &s->scheme->bank[i], corner_m);
        if (gradin_polygon_overlap(row, (gradin_polygon){corner_m, 4}, 0.01)) return true;
    }
    return false;
}

/* The row with the floor before it, reaching `left_m` and `right_m` beyond its ends. */
static bool is_free_to(const search *s, const draft_wheelchair_row *row, double left_m,
                       double right_m) {
    gradin_vec2 corner_m[4];
    gradin_vec2 middle_m = along(row->front_m, row->facing_deg, CLEAR_M / 2.0);
    middle_m = along(middle_m, row->facing_deg + 90.0, (right_m - left_m) / 2.0);
    gradin_rectangle_corners(middle_m, row->facing_deg, DRAFT_PLACE_DEPTH_M + CLEAR_M,
                             row->n_place * DRAFT_PLACE_WIDTH_M + left_m + right_m, corner_m);
    gradin_polygon room = {corner_m, 4};
    return draft_is_free(s->job, s->scheme, room, DOOR_M) && !hides_a_bank(s, room);
}

/* Does it block the ends of the way along a bank's front? */
static bool blocks_a_mouth(const search *s, const draft_wheelchair_row *row) {
    gradin_vec2 place_m[4], mouth_m[4];
    gradin_rectangle_corners(row->front_m, row->facing_deg, DRAFT_PLACE_DEPTH_M,
                             row->n_place * DRAFT_PLACE_WIDTH_M, place_m);
    for (int i = 0; i < s->scheme->n_bank; i++) {
        draft_box_corners(draft_front_box(s->job, &s->scheme->bank[i], MOUTH_M, MOUTH_M), mouth_m);
        if (gradin_polygon_overlap((gradin_polygon){place_m, 4}, (gradin_polygon){mouth_m, 4},
                                   0.01))
            return true;
    }
    return false;
}

/* Before the stage, where it has one side to look from; before the back of a thrust's focus. */
static bool is_before_stage(const draft_job *job, gradin_vec2 at_m) {
    gradin_box2 b = job->stage_box, f = job->focus_box;
    const double behind_m[4] = {f.y_min_m - at_m.y, f.x_min_m - at_m.x, at_m.y - f.y_max_m,
                                at_m.x - f.x_max_m};
    const double ahead_m[4] = {at_m.y - b.y_max_m, at_m.x - b.x_max_m, b.y_min_m - at_m.y,
                               b.x_min_m - at_m.x};
    if (job->w->form == GRADIN_FORM_THRUST)
        return behind_m[job->quarter] < -DRAFT_PLACE_DEPTH_M / 2.0;
    return !draft_is_end(job->w->form) || ahead_m[job->quarter] > 0.0;
}

/* Floor for a wheelchair before, behind or beside the middle of a row; a stage level with the floor
 * counts. */
static bool is_reached(const search *s, const draft_wheelchair_row *row) {
    for (int side = 0; side < 4; side++) {
        gradin_vec2 corner_m[4];
        double length_m = side % 2 == 0 ? DRAFT_PLACE_DEPTH_M : row->n_place * DRAFT_PLACE_WIDTH_M;
        double bearing_deg = row->facing_deg + 90.0 * side;
        gradin_rectangle_corners(along(row->front_m, bearing_deg, (length_m + CLEAR_M) / 2.0),
                                 bearing_deg, CLEAR_M, CLEAR_M, corner_m);
        gradin_polygon floor = {corner_m, 4};
        if (draft_is_clear(s->job, s->scheme, floor, 0.0) &&
            (draft_is_stage_level(s->job) || !draft_is_on_stage(s->job, floor)))
            return true;
    }
    return false;
}

/* In a corner between banks or beside a stage; whether a way out is left `fit` says. */
static bool can_stand_close(const search *s, const draft_wheelchair_row *row) {
    gradin_vec2 corner_m[4];
    gradin_rectangle_corners(row->front_m, row->facing_deg, DRAFT_PLACE_DEPTH_M,
                             row->n_place * DRAFT_PLACE_WIDTH_M, corner_m);
    gradin_polygon place = {corner_m, 4};
    for (int side = -1; side <= 1; side += 2)
        if (!is_before_stage(s->job, along(row->front_m, row->facing_deg + 90.0,
                                           side * (row->n_place - 1) * DRAFT_PLACE_WIDTH_M / 2.0)))
            return false;
    return draft_is_free(s->job, s->scheme, place, DRAFT_LANDING_M) && !hides_a_bank(s, place) &&
           is_reached(s, row);
}

static bool can_stand(const search *s, const draft_wheelchair_row *row) {
    if (s->is_tight) return can_stand_close(s, row);
    return !blocks_a_mouth(s, row) &&
           (is_free_to(s, row, s->beside_m, 0.0) || is_free_to(s, row, 0.0, s->beside_m));
}

static draft_wheelchair_row mirrored(const draft_job *job, const draft_wheelchair_row *row) {
    draft_wheelchair_row other = *row;
    other.front_m = draft_mirror_m(job, row->front_m);
    other.facing_deg = draft_mirror_deg(job, row->facing_deg);
    return other;
}

static bool is_on_axis(const draft_job *job, const draft_wheelchair_row *row) {
    double turned = gradin_bearing_gap_deg(draft_mirror_deg(job, row->facing_deg), row->facing_deg);
    return draft_off_axis_m(job, row->front_m) < 1e-6 && turned < 1e-6;
}

/* Has the row's mirror image a place, too? */
static bool has_pair(const search *s, const draft_wheelchair_row *row) {
    if (!s->is_paired || is_on_axis(s->job, row)) return true;
    draft_wheelchair_row other = mirrored(s->job, row);
    return 2 * row->n_place <= s->n_left && !draft_boxes_meet(row_box(row), row_box(&other)) &&
           can_stand(s, &other);
}

/* What a row is worth beside what it sees: many places, near, and none left over for a row that
 * stands alone on one side of the axis. */
static double worth_of(const search *s, const draft_wheelchair_row *row, double distance_m) {
    int n = s->is_paired && !is_on_axis(s->job, row) ? 2 * row->n_place : row->n_place;
    int left = s->n_left - n;
    bool is_even = left == 0 || left >= 4;
    return PLACE_WORTH * row->n_place - DISTANCE_WORTH * distance_m + is_even * LAST_WORTH;
}

/* Could a row there that sees all be the best? */
static bool may_be_best(const search *s, draft_wheelchair_row row, double distance_m) {
    for (row.n_place = s->n; row.n_place >= 2; row.n_place--)
        if (1.0 + worth_of(s, &row, distance_m) > s->best_worth) return true;
    return false;
}

/* Rows about a point, towards the near edge of the focus or its middle by eighths of a turn. */
static void try_row(search *s, gradin_vec2 at_m, double facing_deg, double distance_m) {
    draft_wheelchair_row row = {.front_m = at_m, .facing_deg = facing_deg, .n_place = 2};
    if (!may_be_best(s, row, distance_m)) return;
    if (!can_stand(s, &row)) return; /* nor can a longer one */
    for (row.n_place = s->n; row.n_place >= 2; row.n_place--) {
        double beside = worth_of(s, &row, distance_m);
        if (1.0 + beside <= s->best_worth) continue;
        if (!can_stand(s, &row) || !has_pair(s, &row)) continue;
        double sight = sight_of(s, &row), worth = beside + sight;
        if (sight < LEAST_SIGHT || worth <= s->best_worth + 1e-9) continue;
        s->best = row;
        s->best_worth = worth;
    }
}

static double eighth_deg(double dx, double dy) {
    return gradin_wrap_360_deg(45.0 * floor(gradin_bearing_deg(dx, dy) / 45.0 + 0.5));
}

static void try_point(search *s, gradin_vec2 at_m) {
    gradin_box2 f = s->job->focus_box;
    gradin_vec2 near_m = near_focus_m(s->job, at_m);
    double dx = near_m.x - at_m.x, dy = near_m.y - at_m.y;
    double to_near_deg = eighth_deg(dx, dy);
    double to_middle_deg =
        eighth_deg((f.x_min_m + f.x_max_m) / 2.0 - at_m.x, (f.y_min_m + f.y_max_m) / 2.0 - at_m.y);
    try_row(s, at_m, to_near_deg, hypot(dx, dy));
    if (to_middle_deg != to_near_deg) try_row(s, at_m, to_middle_deg, hypot(dx, dy));
}

typedef struct net_point {
    gradin_vec2 at_m;
    double distance_m;
    int order;
} net_point;

static int nearest_first(const void *a, const void *b) {
    const net_point *p = a, *q = b;
    if (p->distance_m != q->distance_m) return p->distance_m < q->distance_m ? -1 : 1;
    return p->order - q->order;
}

/* The points of a net over the room, NET_PARTS to a section and in step with the sections. */
static net_point *make_net(const draft_job *job, int *n) {
    const gradin_lift_grid *g = job->plan;
    double dx = g->size_m[0] / NET_PARTS, dy = g->size_m[1] / NET_PARTS;
    gradin_box2 room = gradin_polygon_bounds(job->hall->footprint);
    int i0 = (int)ceil((room.x_min_m - g->origin_m.x) / dx);
    int i1 = (int)floor((room.x_max_m - g->origin_m.x) / dx);
    int k0 = (int)ceil((room.y_min_m - g->origin_m.y) / dy);
    int k1 = (int)floor((room.y_max_m - g->origin_m.y) / dy);
    net_point *net =
        gradin_arena_alloc(job->arena, (size_t)(i1 - i0 + 1) * (size_t)(k1 - k0 + 1), sizeof *net);
    *n = 0;
    for (int k = k0; k <= k1 && net; k++)
        for (int i = i0; i <= i1; i++) {
            gradin_vec2 at_m = {g->origin_m.x + i * dx, g->origin_m.y + k * dy};
            gradin_vec2 near_m = near_focus_m(job, at_m);
            if (!is_before_stage(job, at_m)) continue;
            net[*n] = (net_point){at_m, hypot(near_m.x - at_m.x, near_m.y - at_m.y), *n};
            ++*n;
        }
    if (net) qsort(net, (size_t)*n, sizeof *net, nearest_first);
    return net;
}

static bool find_row(const draft_job *job, const draft_scheme *scheme, const net_point *net,
                     int n_net, search s, draft_wheelchair_row *row) {
    s.job = job;
    s.scheme = scheme;
    s.best_worth = -INFINITY;
    for (int i = 0; i < scheme->n_bank; i++)
        s.blocker[s.n_blocker++] = seated_box(job, &scheme->bank[i]);
    for (int i = 0; i < scheme->n_wheelchair_row; i++)
        s.blocker[s.n_blocker++] = row_box(&scheme->wheelchair_row[i]);
    for (int i = 0; i < n_net; i++) {
        double most = 1.0 + PLACE_WORTH * s.n - DISTANCE_WORTH * net[i].distance_m + LAST_WORTH;
        if (most <= s.best_worth) break; /* the rest is farther */
        try_point(&s, net[i].at_m);
    }
    *row = s.best;
    return s.best.n_place >= 2;
}

/* Longest row of places that may still be asked for: two sides when there are many. */
static int longest(int left, int n_all, int one_aisle) {
    int most = n_all > 6 ? (n_all + 1) / 2 : n_all;
    if (most > one_aisle) most = one_aisle;
    return left < most ? left : most;
}

/* A row on free floor, with its mirror image where that is wished and can be had. */
static int set_free_rows(const draft_job *job, draft_scheme *scheme, const net_point *net,
                         int n_net, search s) {
    draft_wheelchair_row row;
    search pair = s;
    pair.is_paired = true;
    bool is_pair = job->w->is_symmetric && find_row(job, scheme, net, n_net, pair, &row);
    if (!is_pair && !find_row(job, scheme, net, n_net, s, &row)) return 0;
    bool is_double = is_pair && !is_on_axis(job, &row);
    if (!is_double && s.n_left - row.n_place == 1 && row.n_place > 2)
        row.n_place--; /* nobody alone */
    draft_add_row(scheme, row);
    if (!is_double) return row.n_place;
    draft_add_row(scheme, mirrored(job, &row));
    return 2 * row.n_place;
}

static bool set_places(const draft_job *job, draft_scheme *scheme, double beside_m, bool is_tight) {
    int one_aisle, two_aisles, n = 2 * scheme->n_wheelchair, left = n, n_net = 0;
    draft_row_rule(job, &one_aisle, &two_aisles);
    scheme->n_wheelchair_row = 0;
    left -= draft_set_fronts(job, scheme, left, two_aisles);
    net_point *net = left > 1 ? make_net(job, &n_net) : NULL;
    while (left > 1 && scheme->n_wheelchair_row + 1 < DRAFT_MAX_WHEELCHAIR_ROW) {
        search s = {.n = longest(left, n, one_aisle),
                    .n_left = left,
                    .beside_m = beside_m,
                    .is_tight = is_tight};
        int placed = net ? set_free_rows(job, scheme, net, n_net, s) : 0;
        if (placed == 0) return false;
        left -= placed;
    }
    return left == 0;
}

/* With a way past each row; else close together, where the floor before them may lead out; in the
 * last resort in any corner that has sight. */
bool draft_set_places(const draft_job *job, draft_scheme *scheme) {
    return set_places(job, scheme, CLEAR_M, false) || set_places(job, scheme, 0.0, false) ||
           set_places(job, scheme, 0.0, true);
}
